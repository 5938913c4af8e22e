"""What is cut from which sheet, board or roll, and in which order."""
