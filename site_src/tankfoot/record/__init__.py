"""What an entry of the record is: its shapes, their check, and the one canonical text of a value."""
