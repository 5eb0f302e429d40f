"""A segment aligner: an explicit-duration, left-to-right model over ordered slots.

It places slots (each with a start and an end) on candidate moments of a time line,
given scores for the moments, densities for lengths and gaps, and a graph that says
which slot may follow which. It knows nothing of what the slots stand for.

Source: Yu (2010), "Hidden semi-Markov models", Artificial Intelligence 174, 215-243.
"""

from reviewkit.align.density import Density, flat, spike_and_tail
from reviewkit.align.lattice import Arc, Lattice, Moments, Slot, build_lattice
from reviewkit.align.posterior import Placement, Ways, best_path, place_slots, weigh_ways

__all__ = [
    "Arc",
    "Density",
    "Lattice",
    "Moments",
    "Placement",
    "Slot",
    "Ways",
    "best_path",
    "build_lattice",
    "flat",
    "place_slots",
    "spike_and_tail",
    "weigh_ways",
]
