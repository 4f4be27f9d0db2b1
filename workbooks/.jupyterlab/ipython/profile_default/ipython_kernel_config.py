"""How the lessons' Python behaves."""

c = get_config()  # noqa: F821 (IPython provides it)

# The terminal stays quiet unless something is wrong.
c.IPKernelApp.log_level = "ERROR"
