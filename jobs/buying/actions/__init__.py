"""Note what is needed, write and place orders, book deliveries and uses."""
