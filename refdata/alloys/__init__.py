"""The alloys room: names, composition, properties, and the cautions that follow from composition."""
