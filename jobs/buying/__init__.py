"""What jobs need, what is on order, what came."""
