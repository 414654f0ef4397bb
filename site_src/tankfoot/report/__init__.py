"""What it cost: figures from the purges of a record, the same on the phone and at a desk."""
