"""Pages of rooms, of their surveys, and of a survey's parts."""
