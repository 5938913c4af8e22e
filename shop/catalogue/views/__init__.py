"""The stores as pages."""
