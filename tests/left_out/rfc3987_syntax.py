"""Stands in front of the package of this name, which takes a second in each Python that reads jsonschema.

It checks international addresses, of which no notebook here has any; JupyterLab and rooms start without it too.
"""

raise ImportError("left out of the tests' Pythons")
