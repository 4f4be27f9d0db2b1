"""What a learner's kernel keeps: nothing of past slider moves, one figure a panel, no debugger.

A longer look, with figures, is in the README beside this file.
"""

import gc
import subprocess
import sys
from pathlib import Path

from jupyter_client import KernelManager
from jupyter_client.kernelspec import KernelSpec
from matplotlib.figure import Figure

from lessons_lib.lessons import how_hot_at_the_tap
from lessons_lib.panels.controls import Slide
from lessons_lib.quantities.display import SI, US

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "workbooks"))
from environment import lean_kernel  # noqa: E402

MOVES = 100


def test_moves_leave_nothing_behind():
    panel = how_hot_at_the_tap.panel()
    sliders = [control.slider for control in panel.controls.values() if isinstance(control, Slide)]

    def move(count: int) -> int:
        for number in range(count):
            slider = sliders[number % len(sliders)]
            slider.value = slider.min + (slider.max - slider.min) * (number * 37 % 101) / 101
        gc.collect()
        return len(gc.get_objects())

    before = move(MOVES)  # fills what is kept on purpose: words as small pictures, tables
    assert move(MOVES) - before < MOVES, "objects are kept of each move"


def test_a_panel_keeps_one_figure():
    gc.collect()
    before = sum(isinstance(one, Figure) for one in gc.get_objects())
    panel = how_hot_at_the_tap.panel()
    for system in (US, SI, US):
        panel.set_system(system)
    gc.collect()
    assert sum(isinstance(one, Figure) for one in gc.get_objects()) - before == 1


def test_the_lessons_kernel_has_no_debugger(tmp_path):
    lean_kernel(tmp_path)
    manager = KernelManager()
    manager._kernel_spec = KernelSpec.from_resource_dir(str(tmp_path / "kernels" / "python3"))
    manager.start_kernel()
    client = manager.client()
    client.start_channels()
    try:
        client.wait_for_ready(timeout=60)
        said = []
        client.execute_interactive(
            "import sys; print(sys.modules['debugpy'], 'pydevd' in sys.modules)",
            output_hook=lambda message: said.append(message["content"].get("text", "")),
            timeout=60,
        )
        assert "".join(said).strip() == "None False"
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)


def test_the_library_alone_draws_nothing():
    """Who only calculates does not load what draws and shows."""
    loaded = subprocess.run(
        [
            sys.executable,
            "-c",
            "import lessons_lib, sys; print(*(name for name in ('matplotlib', 'ipywidgets', 'IPython', 'reportlab') if name in sys.modules))",
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    assert loaded.stdout.strip() == ""
