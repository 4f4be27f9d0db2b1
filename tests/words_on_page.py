"""The words of a panel as a reader sees them."""


def seen(panel) -> str:
    """Gives what a panel shows, with a common blank wherever one keeps a number with its unit."""
    return panel._shown.value.replace("\u00a0", " ")
