"""Shuttles moved by hand from section to section, one pick after another.

Shares no code with the program. A section is a `Stretch`; its joined edges are pairs
(layer, layer, side), layers from 0. A shuttle that comes out of a layer goes into the one that is
joined to it there, or turns back.
"""

from dataclasses import dataclass, field

from hypothesis import strategies as st

ACROSS = {"left": "right", "right": "left"}
CLOSED = -1


@dataclass(frozen=True)
class Stretch:
    picks: int
    layers: int
    pairs: tuple = ()
    closed: bool = False
    wefts: tuple = ()
    order: tuple = ()
    ratio: tuple = ()
    stack: tuple = ()

    def beyond(self):
        """The layer behind each joined edge."""
        return {
            edge: other
            for one, two, side in self.pairs
            for edge, other in (((one, side), two), ((two, side), one))
        }

    def order_of_layers(self):
        return self.stack or tuple(range(self.layers))

    def cloths(self):
        """The layers of each cloth, uppermost first; the cloth with the uppermost layer first."""
        beyond, found = self.beyond(), []
        for layer in self.order_of_layers():
            if any(layer in cloth for cloth in found):
                continue
            cloth, grown = {layer}, True
            while grown:
                new = {beyond[edge] for edge in beyond if edge[0] in cloth} - cloth
                cloth, grown = cloth | new, bool(new)
            found.append([each for each in self.order_of_layers() if each in cloth])
        return found


@dataclass
class Shuttle:
    number: int
    yarn: str
    side: str
    layer: int | None = None


@dataclass
class Bench:
    start: str
    shuttles: list = field(default_factory=list)
    picks: list = field(default_factory=list)

    def weave(self, stretch):
        taken = {}
        cloths = [[CLOSED]] if stretch.closed else stretch.cloths()
        if not stretch.order and not stretch.closed:
            for place, cloth in enumerate(cloths):
                yarn = stretch.wefts[first_layer(stretch, cloth)]
                for shuttle in self.shuttles:
                    if shuttle.layer in cloth and shuttle.yarn == yarn:
                        taken.setdefault((place, yarn), shuttle)
        walkers = {}
        for pick, place in zip(range(stretch.picks), turns(stretch, cloths), strict=False):
            cloth = cloths[place]
            first = 0 if stretch.closed else first_layer(stretch, cloth)
            yarn = stretch.order[pick] if stretch.order else stretch.wefts[first]
            shuttle = self.take(taken, place, yarn, cloth)
            if stretch.closed:
                layer = CLOSED
            elif place in walkers:
                layer, side = walkers[place]
                layer = stretch.beyond().get((layer, side), layer)
                walkers[place] = layer, ACROSS[side]
            else:
                layer = first
                if shuttle.layer in cloth:
                    layer = stretch.beyond().get((shuttle.layer, shuttle.side), shuttle.layer)
                walkers[place] = layer, ACROSS[shuttle.side]
            self.picks.append((layer, shuttle.number, shuttle.side))
            shuttle.layer, shuttle.side = layer, ACROSS[shuttle.side]

    def take(self, taken, place, yarn, cloth):
        if (place, yarn) not in taken:
            idle = [each for each in self.shuttles if each not in taken.values()]
            fit = [each for each in idle if each.yarn == yarn]
            near = [each for each in fit if each.layer in cloth]
            if not fit:
                self.shuttles.append(Shuttle(len(self.shuttles), yarn, self.start))
            taken[place, yarn] = (near or fit or self.shuttles[-1:])[0]
        return taken[place, yarn]


def first_layer(stretch, cloth):
    """Of a flat cloth the upper one with an open edge, of a tube the uppermost."""
    beyond = stretch.beyond()
    ends = [each for each in cloth if sum(edge[0] == each for edge in beyond) < 2]
    return (ends or cloth)[0]


def turns(stretch, cloths):
    """The cloth of each pick, for ever: joined layers are woven equally often, open ones by ratio."""
    beyond = stretch.beyond()
    ring = [
        len(cloth) > 1 and sum(e[0] in cloth for e in beyond) == 2 * len(cloth) for cloth in cloths
    ]
    flat = any(len(cloth) > 1 and not round_ for cloth, round_ in zip(cloths, ring, strict=True))
    while True:
        for place, cloth in enumerate(cloths):
            if beyond:
                times = len(cloth) * (2 if flat else 1)
            else:
                times = (stretch.ratio or (1,) * stretch.layers)[cloth[0]]
            if stretch.closed:
                times = 1
            yield from [place] * times


def named_pairs(join, layers):
    if join == "tube":
        return ((0, 1, "left"), (0, 1, "right"))
    pairs, side = [], join
    for layer in range(layers - 1 if join in ACROSS else 0):
        pairs.append((layer, layer + 1, side))
        side = ACROSS[side]
    return tuple(pairs)


@st.composite
def some_pairs(draw, layers, stack=()):
    """Pairs that make cloth: no edge twice, no folds that cross."""
    at = list(stack or range(layers)).index
    layer = st.integers(0, layers - 1)
    tried = draw(st.lists(st.tuples(layer, layer, st.sampled_from(["left", "right"])), max_size=8))
    pairs = []
    for one, two, side in tried:
        spans = [sorted((at(a), at(b))) for a, b, s in pairs if s == side]
        low, high = sorted((at(one), at(two)))
        if low == high or any({low, high} & set(span) for span in spans):
            continue
        if all((low < a < high) == (low < b < high) for a, b in spans):
            pairs.append((one, two, side))
    return tuple(pairs)
