"""Pure functions and tables of the trade, each with units and a published source."""
