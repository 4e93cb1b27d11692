"""Sets to keep apart are dealt by colouring edges; checked against what a colouring is, on random multigraphs."""

from __future__ import annotations

import random
from collections import Counter

import pytest
from allocation_plants import CONTACT, channel

from wiregen.allocation import allocate
from wiregen.allocation.dealing import colour
from wiregen.allocation.model import End, Problem


@pytest.mark.parametrize("seed", range(60))
def test_no_two_edges_at_a_node_are_equal_and_the_largest_degree_suffices(seed: int) -> None:
    """D. König 1916: the chromatic index of a bipartite multigraph is its largest degree (from memory)."""
    rng = random.Random(seed)
    edges = [(rng.randrange(4), f"-K{rng.randrange(6)}") for _ in range(rng.randint(1, 40))]
    colours = colour(edges)
    degrees = Counter(p for p, _ in edges) | Counter(d for _, d in edges)
    assert max(colours) + 1 == max(degrees.values())
    at_position = {(position, c) for (position, _), c in zip(edges, colours, strict=True)}
    at_device = {(device, c) for (_, device), c in zip(edges, colours, strict=True)}
    assert len(at_position) == len(at_device) == len(edges)


@pytest.mark.parametrize(("cards", "pairs", "fits"), [(2, 8, True), (2, 9, False), (3, 12, True), (3, 13, False)])
def test_pairs_fill_the_cards_to_the_last_channel(cards: int, pairs: int, fits: bool) -> None:
    """Cards of eight: with two, each pair takes one channel of both; with three, 12 pairs fill 24 channels exactly."""
    devices = tuple(f"-K{n}" for n in range(cards))
    channels = [channel(d, f"DI{n}", "digital_in", n, group="1", signals=CONTACT) for d in devices for n in range(8)]
    names = [(f"left {n}", f"right {n}") for n in range(pairs)]
    ends = tuple(End(name, name, devices, "digital_in", CONTACT) for pair in names for name in pair)
    allocation = allocate(Problem(ends, tuple(channels), (), tuple(names)))
    assert (allocation.status == "optimal") == fits
    assert len(allocation.unplaced) == (0 if fits else 2)
