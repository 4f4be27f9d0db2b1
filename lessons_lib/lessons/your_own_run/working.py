"""The layout that is open, worked out and shown after every edit: in a large building the numbers before the sketch."""

from ...building.readings import assessing
from ...building.steps import at_once, within
from ...panels.progress import Progress
from ...quantities.errors import InputError
from ...storage.spelling import in_words_of
from .picture import OwnRunScene
from .told import so_far

LARGE = 120  # legs; working out and drawing more than these takes so long that the reader is shown how far it is
ASSESSED, SHOWN = 0.5, 0.55  # shares of an edit's work: all readings are there; they are on the screen


class Working:
    """Works the layout out and shows it. An edit while that is going on takes its place, and nothing waits in a row.

    panel : the OwnRun; progress : its bar, which is shown for a large building
    """

    def __init__(self, panel):
        self.panel, self.progress = panel, Progress(stops=False)

    def begin(self) -> None:
        """Shows the layout as it is now: before this returns, or in a large building step by step."""
        if self.panel.document.text.count("[[leg]]") > LARGE:
            self.panel._tell_work("… Working it out")
            self.progress.work(self._steps(numbers_first=True), lambda stopped: self._done(), self._failed)
            return
        self.progress.leave()
        try:
            at_once(self._steps(numbers_first=False))
        except Exception as reason:
            self._failed(reason)
        else:
            self._done()

    def worked(self):
        """Works the layout out in steps and gives its scene; the one that is shown where nothing has changed since.
        Raises InputError.
        """
        panel = self.panel
        if panel.is_known():
            return panel.scene
        layout = panel.document.layout(so_far=True)
        yield 0.1
        return OwnRunScene(layout, (yield from within(0.1, 1.0, assessing(layout))))

    def _steps(self, numbers_first: bool):
        """Works the layout out and draws it, unless it is what is shown already."""
        panel, known = self.panel, self.panel._known()
        if panel.is_drawn():
            return
        scene = yield from within(0.0, ASSESSED, self.worked())
        with panel._lock:
            panel.take(scene, known)
            if numbers_first:
                panel.sentence = in_words_of(panel.picture.sentence(scene), panel.system)
                panel._show_numbers()
                panel._view()
                panel._tell_work("… The numbers are there, the sketch follows")
        yield SHOWN
        with panel._lock:
            panel._draw()
            if not numbers_first:
                panel._view()
            panel.note_drawn()

    def _done(self) -> None:
        """Says that the layout is shown, and what of it is not there yet."""
        panel, missing = self.panel, self.panel.scene.layout.unfinished
        for error in missing:
            panel._beside(error)
        panel._tell_work(f"▲ {so_far(panel.document, missing)}" if missing else "● Ready")

    def _failed(self, reason: Exception) -> None:
        """Says why the picture is that from before."""
        try:
            with self.panel._never_ready():
                raise reason
        except InputError as error:
            self.panel._complain(error)
