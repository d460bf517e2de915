"""What a mixture of foods is while it is cooked: ingredients, constituents, phases, draws, the account of a part."""
