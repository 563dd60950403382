"""The holes room: screws, clearance holes, drills, countersinks."""
