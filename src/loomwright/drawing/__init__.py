"""Drawings as SVG text, in millimetres: black-and-white safe, labels that know their width.

faces
    Sockets and plugs from either side: `socket_face`.
wires
    A conductor as in the hand: `wire_swatch`.
"""
