"""Pages of builds and of a room's planned panels."""
