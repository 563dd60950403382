"""The machining room: spindle speeds, passes, stops for a pocket, a set of measured parts."""
