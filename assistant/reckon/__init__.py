"""One calculation asked for alone, answered with its working, its source and its range."""
