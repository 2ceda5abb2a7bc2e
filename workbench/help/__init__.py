"""The handbook: its sources, what builds pages of them, and what opens the right one."""
