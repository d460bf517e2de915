"""The sentences of the method, read once into typed instructions."""
