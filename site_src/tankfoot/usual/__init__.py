"""What is usual, learnt from the record: numbers only."""
