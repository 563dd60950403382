"""The finishing room: the ladder of grits and the speed of a wheel."""
