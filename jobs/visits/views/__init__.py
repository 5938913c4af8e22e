"""Pages of site days."""
