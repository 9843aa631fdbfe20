"""This computer on the shop's network: its addresses, its name, and the small doors beside the pages."""
