"""The joining room: growth by heat, laps, filler and heat for brazing."""
