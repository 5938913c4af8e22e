"""Quotes on pages: lists, drafts, sending, answers."""
