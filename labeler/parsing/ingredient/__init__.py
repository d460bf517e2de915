"""One ingredient line: its amounts, its food, what is done to it, what it remarks."""
