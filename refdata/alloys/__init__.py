"""The alloys room: names, composition, properties, and the cautions that follow from composition."""

import sys


class _Room(type(sys)):
    """The room shares its name with the question `alloys`: called, it answers it."""

    def __call__(self, *arguments, **options):
        from .choosing import alloys

        return alloys(*arguments, **options)


sys.modules[__name__].__class__ = _Room
