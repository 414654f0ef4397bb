"""The guided purge: its steps as a table, the machine that walks it, and what a purge tells."""
