"""Pages and papers of cut plans."""
