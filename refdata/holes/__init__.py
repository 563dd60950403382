"""The holes room: screws, nuts and washers, threads and taps, clearance holes, drills, countersinks, counterbores and
ball seats, and the plan of a whole hole."""
