"""What every picture has: a canvas, the reader's units, what was kept for comparison, its words, and its ways out."""

import base64
from html import escape

from ..quantities.display import SYSTEMS
from ..storage.spelling import in_words_of
from .canvas import Canvas
from .vector import USUAL

LARGEST = 0.885  # of its size, at which a part of a picture is shown: words of 16 px as large as the smallest beside it


class Picture:
    """A picture is built once and then moved from scene to scene.

    Those who inherit give `size` and say what they show in four methods:

    build(canvas) : makes the artists, for all pictures of the class alike: they share what stands still
    show(scene) : moves the artists to a scene, and the ghost to `kept`, which is a scene too or None
    sentence(scene) : says what the picture shows, with its numbers
    description(scene) : names each drawing in turn, for those who cannot see it; the sentence follows it

    size : width and height [px]
    parts : what a narrow screen shows one beneath the other, as (left, top, width, height) [px], what says most first;
        each has its own words whole and is so narrow that they can be read on a phone. None: the whole picture
    scales : parts that stand still and are labelled in the reader's units; each has `units(system)`
    """

    size: tuple[int, int]
    parts: tuple[tuple[int, int, int, int], ...] = ()
    scales = ()

    def __init_subclass__(cls) -> None:
        cls.backgrounds = {}

    def __init__(self, system: str = SYSTEMS[0]):
        self.kept, self.canvas = None, Canvas(*self.size, self.backgrounds)
        self.build(self.canvas)
        self.units(system)

    def units(self, system: str) -> None:
        """Labels what stands still in this unit system; the next scene is drawn in it."""
        self.system = system
        for part in self.scales:
            part.units(system)

    def draw(self, scene) -> str:
        """Moves the artists to a scene and gives the sentence that says what they show."""
        self.show(scene)
        self.canvas.say_as(self.system)
        return in_words_of(self.sentence(scene), self.system)

    def describe(self, scene) -> str:
        """Gives the picture in words, with what was kept, for those who cannot see it."""
        kept = f" Kept for comparison: {self.sentence(self.kept)}" if self.kept else ""
        return in_words_of(f"{self.description(scene)} {self.sentence(scene)}{kept}", self.system)

    def png(self) -> bytes:
        """Gives the picture of the scene that was drawn last, in pixels."""
        return self.canvas.png()

    def style(self) -> str:
        """Gives the style element with what stands still, which lies behind the moving part that `html` gives."""
        still = base64.b64encode(self.canvas.still.encode()).decode()
        return (
            f"<style>.{self.canvas.name}"
            f" {{ background: url(data:image/svg+xml;base64,{still}) 0 0 / 100% 100% no-repeat;"
            " print-color-adjust: exact; }</style>"
        )

    def views(self) -> str:
        """Gives the parts as a narrow screen shows them; they follow by themselves what `html` gave last."""
        name, (across, down), made = self.canvas.name, self.canvas.size, ""
        for left, top, width, height in self.parts or ((0, 0, across, down),):
            x, y = (100 * before / max(rest, 1) for before, rest in ((left, across - width), (top, down - height)))
            made += (
                f'<svg class="{name}" aria-hidden="true" viewBox="{left} {top} {width} {height}" {USUAL} style="max-width:'
                f"{LARGEST * width:.0f}px;background-size:{100 * across / width:.4f}% {100 * down / height:.4f}%;"
                f'background-position:{x:.4f}% {y:.4f}%"><use href="#{name}"/></svg>'
            )
        return made

    def html(self, scene) -> str:
        """Gives what moves, with the description of the whole, as a web page shows it; draw the scene first."""
        width, height = self.size
        return (
            f'<svg class="{self.canvas.name}" role="img" aria-label="{escape(self.describe(scene), quote=True)}"'
            f' viewBox="0 0 {width} {height}" {USUAL}'
            f' style="display:block;width:{width}px;max-width:100%;height:auto;flex:0 1 auto;min-width:0">'
            f'<g id="{self.canvas.name}">{self.canvas.moved()}{"".join(self.canvas.handles)}</g></svg>'
        )

    def bundle(self, pixels: bool = True) -> dict:
        """Gives the picture as a closed notebook stores it: kind of data → data. pixels : False: without the PNG"""
        whole = self.canvas.svg().replace(self.canvas.name, type(self).__name__)  # the same each time it is stored
        made = {"application/pdf": self.canvas.pdf()} | ({"image/png": self.png()} if pixels else {})
        # for web pages; for paper and for what shows no lines
        return {"image/svg+xml": whole} | {kind: base64.b64encode(data).decode() for kind, data in made.items()}
