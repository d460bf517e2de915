"""The physics of cooking, each model with its source: no decisions, only mixtures in and out."""
