"""What the fork server of a room reads once, for all pages: the lessons with all that they need.

Nothing here may know a learner, nor make a widget: the state of a page begins in the page.
"""

import gc
import importlib
import pkgutil
import sys

sys.modules["debugpy"] = None  # as in the lessons' own kernel.json: 10 MB that no page needs

import ipykernel.kernelapp  # noqa: E402, F401
import IPython.core.debugger  # noqa: E402, F401
import IPython.extensions.storemagic  # noqa: E402, F401
import psutil  # noqa: E402, F401
import tornado.platform.asyncio  # noqa: E402, F401
from PIL import Image  # noqa: E402

from lessons_lib import lessons, panels  # noqa: E402, F401

from . import forked  # noqa: E402

for _lesson in pkgutil.iter_modules(lessons.__path__):
    importlib.import_module(f"{lessons.__name__}.{_lesson.name}")
Image.preinit()
forked.end_with_parent()  # the fork server ends with the room, and each page's Python with the fork server
gc.collect()
gc.freeze()  # a page's own search for garbage leaves these objects alone, so that their memory stays shared
