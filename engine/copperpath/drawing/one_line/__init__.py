"""The one-line diagram of a station.

`scheme.py` says what stands left of what, `order.py` in which order from top to bottom, `rows.py`
and `columns.py` where exactly, `symbols.py` and `labels.py` what is drawn there, `sheet.py` on
which paper, `paint.py` into which file. `annotations.py` brings the figures. `draw.py` calls them
in this order.

Symbols follow IEC 60617 in style. Matplotlib draws: one library for SVG, PNG and PDF alike, with
the same font and the same letter widths in all three, which labels that may not overlap need; it
and all that comes with it is free under permissive licences (PSF, BSD, MIT). Networkx (here
anyway) sorts devices into columns, and linear programs of scipy (here anyway) make wires straight.
A library of circuit symbols was looked at and left out: it has few of the symbols of power
stations and places parts one after the other by hand.
"""
