"""The lined box as a sound field: Helmholtz in air and fibre, on hexahedra, between two ducts.

Time factor e^{+j omega t}. The order to read it in: porous (what fibre does), prism (what is stated), grid,
element, operator (the equation assembled), port (how ducts meet it), solve, reduced (all frequencies at
once), twoport and field (what is asked).
"""
