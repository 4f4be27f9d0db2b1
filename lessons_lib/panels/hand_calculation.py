"""A calculation by hand for a panel's own settings, written anew with each of its pictures."""

from html import escape

import ipywidgets as widgets

from ..storage.spelling import in_words_of


class Sums:
    """Follows a panel.

    write : (scene, unit system) → {heading: lines}, the lines as plain words
    """

    def __init__(self, panel, write):
        self.panel, self.write, self.widget = panel, write, widgets.HTML()
        self.update()
        panel.watchers.append(self.update)

    def update(self) -> None:
        """Write what the panel shows now."""
        system = self.panel.system
        self.parts = {
            in_words_of(heading, system): [in_words_of(line, system) for line in lines]
            for heading, lines in self.write(self.panel.scene, system).items()
        }
        self.widget.value = (
            '<div style="font-size:15px;line-height:1.4;max-width:62em">'
            + "".join(
                f"<b>{escape(heading)}</b><ul style='margin:2px 0"
                f" 8px'>{''.join(f'<li>{escape(line)}</li>' for line in lines)}</ul>"
                for heading, lines in self.parts.items()
            )
            + "</div>"
        )

    def __repr__(self) -> str:
        return "\n".join(line for heading, lines in self.parts.items() for line in (heading, *lines))

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle
