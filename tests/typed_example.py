"""What mypy holds of the public API: results are typed, and a wrong name is an error (else its ignore is unused)."""

import labeler


def energy_of(path: str) -> float:
    """The best estimate of the energy of one serving [kcal]."""
    recipe: labeler.Recipe = labeler.read_recipe_file(path)
    nutrition: labeler.Nutrition = labeler.analyse(recipe, market="uk")
    figure: labeler.Figure = nutrition.per_serving["ENERC_KCAL"]
    return figure.best


def wrong(recipe: labeler.Recipe) -> None:
    """Each of these lines is refused by ``mypy --strict``."""
    labeler.analyze(recipe)  # type: ignore[attr-defined]
    labeler.analyse(recipe).per_portion  # type: ignore[attr-defined] # noqa: B018
    labeler.weigh("2 cups flour")  # type: ignore[arg-type]
