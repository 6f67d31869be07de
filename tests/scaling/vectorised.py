#!/usr/bin/env python3
"""Sets out the ties of one wall with numpy and shapely: a yardstick for the scaling table, not a tool.

Reads {"outline": ring, "openings": [ring, ...]} from standard input, mm; the openings are upright rectangles. The
rules are the default ones: each tie serves the connected masonry within 450 and 225 mm of it, jambs have ties within
225 mm and at most 300 apart, ties keep 75 mm off every side and 100 mm off each other, on bed joints 75 mm apart.

Greedy, whole arrays at a time: ties along every jamb first; then rows 450 mm apart, in each from the left a tie as
far on as the first unserved place allows; then, for what shapely says is still unserved, the nearest allowed place,
until nothing is. Prints the seconds that took, without reading and printing, then "x y" for each tie.
"""

import json
import sys
import time

import numpy as np
import shapely

H, V = 900.0, 450.0
WITHIN, SPACING = 225.0, 300.0
EDGE, BETWEEN, GAUGE = 75.0, 100.0, 75.0
SLIVER = 4.0
ALONG = 25.0
TILE = 2700.0


def beds(y):
    """The bed joint at or below each height."""
    return np.floor(np.asarray(y) / GAUGE + 1e-9) * GAUGE


class Wall:
    """The masonry, and where ties may stand in it."""

    def __init__(self, outline, openings):
        self.outline = shapely.polygons(outline)
        shapely.prepare(self.outline)
        self.openings = np.array([shapely.polygons(o) for o in openings])
        self.tree = shapely.STRtree(self.openings)
        self.bounds = shapely.bounds(self.outline)
        holes = shapely.union_all(self.openings) if len(self.openings) else shapely.Polygon()
        self.masonry = shapely.difference(self.outline, holes)
        self.allowed = shapely.buffer(self.masonry, -EDGE + 0.5, join_style="mitre")
        shapely.prepare(self.allowed)

    def may_stand(self, x, y):
        return shapely.intersects_xy(self.allowed, x, y)

    def without_openings(self, shapes):
        """Each shape less the openings that touch it."""
        which, opening = self.tree.query(shapes, predicate="intersects")
        out = shapes.copy()
        if len(which):
            order = np.argsort(which, kind="stable")
            which, opening = which[order], opening[order]
            with_any, group = np.unique(which, return_inverse=True)
            cut = shapely.multipolygons(self.openings[opening], indices=group)
            out[with_any] = shapely.difference(shapes[with_any], cut)
        return out

    def served(self, x, y):
        """The piece of masonry that each tie serves."""
        boxes = shapely.box(x - H / 2, y - V / 2, x + H / 2, y + V / 2)
        boxes = shapely.intersection(boxes, self.outline)
        parts, of = shapely.get_parts(self.without_openings(boxes), return_index=True)
        shapely.prepare(parts)
        mine = shapely.intersects_xy(parts, x[of], y[of])
        return parts[mine]

    def tiles(self):
        x0, y0, x1, y1 = self.bounds
        left, low = np.meshgrid(np.arange(x0, x1, TILE), np.arange(y0, y1, TILE))
        left, low = left.ravel(), low.ravel()
        boxes = shapely.box(left, low, np.minimum(left + TILE, x1), np.minimum(low + TILE, y1))
        return self.without_openings(shapely.intersection(boxes, self.outline))

    def unserved(self, tiles, served):
        """The pieces of the tiles that nothing in `served` covers, slivers left out."""
        tree = shapely.STRtree(served)
        tile, which = tree.query(tiles, predicate="intersects")
        left = tiles.copy()
        if len(tile):
            with_any, group = np.unique(tile, return_inverse=True)
            gathered = shapely.geometrycollections(served[which], indices=group)
            covered = shapely.union_all(gathered[:, None], axis=1)
            left[with_any] = shapely.difference(tiles[with_any], covered)
        parts = shapely.get_parts(left)
        parts = parts[shapely.area(parts) > SLIVER * SLIVER]
        return parts[~shapely.is_empty(shapely.buffer(parts, -SLIVER / 2, join_style="mitre"))]


def jamb_ties(wall):
    """Ties along both jambs of each opening, as far off as they still count."""
    if not len(wall.openings):
        return np.empty(0), np.empty(0)
    x0, y0, x1, y1 = shapely.bounds(wall.openings).T
    first = beds(y0 + SPACING / 2)
    step = beds(SPACING)
    count = np.maximum(np.ceil((y1 - SPACING / 2 - first) / step).astype(int), 0) + 1
    most = count.max()
    k = np.arange(most)
    y = (first[:, None] + k[None, :] * step)[k[None, :] < count[:, None]]
    of = np.repeat(np.arange(len(count)), count)
    xs, ys = np.concatenate([x0[of] - WITHIN, x1[of] + WITHIN]), np.concatenate([y, y])
    good = wall.may_stand(xs, ys)
    return thinned(xs[good], ys[good])


def thinned(x, y):
    """Leaves out ties closer than the least distance to one before them."""
    points = shapely.points(x, y)
    a, b = shapely.STRtree(points).query(points, predicate="dwithin", distance=BETWEEN - 1.0)
    keep = np.ones(len(x), bool)
    for i, j in zip(a[a < b], b[a < b]):
        if keep[i]:
            keep[j] = False
    return x[keep], y[keep]


def row_ties(wall, pieces, known):
    """In rows 450 apart, from the left, a tie as far on as the first unserved place allows."""
    x0, y0, x1, y1 = wall.bounds
    rows = beds(np.arange(y0 + V / 2, y1, V))
    bands = shapely.box(x0, rows - V / 2, x1, rows + V / 2)
    piece, row = shapely.STRtree(bands).query(pieces, predicate="intersects")
    cut = shapely.intersection(pieces[piece], bands[row])
    parts, of = shapely.get_parts(cut, return_index=True)
    good = shapely.area(parts) > SLIVER * SLIVER
    bounds, row = shapely.bounds(parts[good]), row[of[good]]
    order = np.lexsort((bounds[:, 0], row))
    bounds, row = bounds[order], row[order]
    grid = np.arange(x0 + EDGE, x1 - EDGE + 1e-9, ALONG)
    xs, ys = [], []
    starts = np.searchsorted(row, np.arange(len(rows) + 1))
    for r, y in enumerate(rows):
        mine = bounds[starts[r] : starts[r + 1]]
        if not len(mine):
            continue
        places = grid[wall.may_stand(grid, np.full(len(grid), y))]
        near = np.sort(known[0][np.abs(known[1] - y) < BETWEEN])
        if len(near) and len(places):
            at = np.searchsorted(near, places)
            gap = np.minimum(
                np.abs(places - near[np.minimum(at, len(near) - 1)]), np.abs(places - near[np.maximum(at - 1, 0)])
            )
            places = places[gap >= BETWEEN]
        reached = -np.inf
        for left, _, right, _ in mine:
            start = max(left, reached)
            while start < right - SLIVER:
                i = np.searchsorted(places, start + H / 2, side="right") - 1
                if i < 0 or places[i] < left - H / 2 or (xs and ys[-1] == y and places[i] <= xs[-1]):
                    break
                xs.append(places[i])
                ys.append(y)
                start = reached = places[i] + H / 2
    return np.array(xs), np.array(ys)


def mended(wall, pieces, x, y):
    """For each piece that is left the nearest allowed place at which a tie serves its middle."""
    middles = shapely.point_on_surface(pieces)
    px, py = shapely.get_x(middles), shapely.get_y(middles)
    dx, dy = np.meshgrid(np.arange(-H / 2 + 10, H / 2, ALONG), np.arange(-3, 4) * GAUGE)
    order = np.argsort(np.hypot(dx, dy), axis=None)
    dx, dy = dx.ravel()[order], dy.ravel()[order]
    ties = shapely.STRtree(shapely.points(x, y))
    new = []
    for cx, cy in zip(px, py):
        qx, qy = np.round((cx + dx) / ALONG) * ALONG, beds(cy) + dy
        good = (np.abs(qx - cx) <= H / 2) & (np.abs(qy - cy) <= V / 2)
        good[good] = wall.may_stand(qx[good], qy[good])
        for i in np.flatnonzero(good):
            p = shapely.Point(qx[i], qy[i])
            clear = not len(ties.query(p, predicate="dwithin", distance=BETWEEN - 1.0))
            clear &= all(np.hypot(qx[i] - a, qy[i] - b) >= BETWEEN for a, b in new[-50:])
            if clear and shapely.intersects_xy(wall.served(qx[i : i + 1], qy[i : i + 1]), cx, cy).any():
                new.append((qx[i], qy[i]))
                break
    new = np.array(new).reshape(-1, 2)
    return new[:, 0], new[:, 1]


def set_out(wall):
    tiles = wall.tiles()
    x, y = jamb_ties(wall)
    served = wall.served(x, y)
    more = row_ties(wall, wall.unserved(tiles, served), (x, y))
    for _ in range(20):
        if not len(more[0]):
            break
        x, y = np.concatenate([x, more[0]]), np.concatenate([y, more[1]])
        served = np.concatenate([served, wall.served(*more)])
        left = wall.unserved(tiles, served)
        if not len(left):
            break
        more = mended(wall, left, x, y)
    return x, y


def main():
    wall = json.load(sys.stdin)
    begun = time.perf_counter()
    x, y = set_out(Wall(wall["outline"], wall["openings"]))
    print(time.perf_counter() - begun)
    print("\n".join(f"{a} {b}" for a, b in zip(x, y)))


if __name__ == "__main__":
    main()
