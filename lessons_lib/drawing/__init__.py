"""The picture kit: canvas, graph, strips, thermometer. Matplotlib only; no widget, no pyplot."""
