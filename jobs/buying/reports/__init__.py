"""What jobs need, what to buy, what is on order, what came."""
