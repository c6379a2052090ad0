/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whether a change leaves the parts as they were, seen from its neighbourhood.
 *
 * Links change at most two squares from a changed one. If within that frame the squares that were
 * not changed hang together as before, and every changed one hung, and hangs, with one of them, then
 * no part anywhere was split, joined, made or lost. Under symmetry all neighbourhoods are images of
 * the first, which is the only one looked at.
 */
#include <string.h>

#include "resize_internal.h"

enum { REACH = 2, BOX = 14 };

/* Places of the box; column 0 at the right. */
struct box {
    const struct resize_sketch *sketch;
    int col, row;     /* of the chart, where place (0, 0) lies; may be out of the ring */
    int wide, tall;
    int cell[BOX * BOX];     /* square of the chart; -1: none */
    bool changed[BOX * BOX];
    uint8_t colour[BOX * BOX], corner[BOX * BOX];
    int root[BOX * BOX];
};

static int root_of(int *root, int i)
{
    while (root[i] != i)
        i = root[i] = root[root[i]];
    return i;
}

static int near(int from, int to, int count)
{
    int step = ((to - from) % count + count) % count;

    return step > count / 2 ? step - count : step;
}

/* The box round the first square changed and all others within reach of each other. */
static bool box_place(struct box *box)
{
    const struct resize_sketch *sketch = box->sketch;
    const struct resize_frame *frame = sketch->frame;
    int c = sketch->changed[0] % frame->ncols, r = sketch->changed[0] / frame->ncols;
    int left = 0, right = 0, up = 0, down = 0;
    bool grew = true;

    while (grew) {
        grew = false;
        for (int i = 1; i < sketch->nchanged; i++) {
            int side = near(c, sketch->changed[i] % frame->ncols, frame->ncols);
            int rise = sketch->changed[i] / frame->ncols - r;

            if (frame->ring)
                rise = near(r, sketch->changed[i] / frame->ncols, frame->nrows);
            if (side < right - 2 * REACH || side > left + 2 * REACH || rise < down - 2 * REACH ||
                rise > up + 2 * REACH || (side >= right && side <= left && rise >= down && rise <= up))
                continue;
            right = side < right ? side : right;
            left = side > left ? side : left;
            down = rise < down ? rise : down;
            up = rise > up ? rise : up;
            grew = true;
        }
    }
    box->col = c + right - REACH;
    box->row = r + down - REACH;
    box->wide = left - right + 1 + 2 * REACH;
    box->tall = up - down + 1 + 2 * REACH;
    return box->wide <= BOX && box->tall <= BOX && box->wide < frame->ncols &&
           (!frame->ring || box->tall < frame->nrows);
}

static void box_fill(struct box *box)
{
    const struct resize_frame *frame = box->sketch->frame;

    for (int i = 0; i < box->wide * box->tall; i++) {
        int row = box->row + i / box->wide;
        int col = ((box->col + i % box->wide) % frame->ncols + frame->ncols) % frame->ncols;

        box->cell[i] = -1;
        box->changed[i] = false;
        if (!frame->ring && (row < 0 || row >= frame->nrows))
            continue;
        row = (row % frame->nrows + frame->nrows) % frame->nrows;
        box->cell[i] = row * frame->ncols + col;
        box->changed[i] = box->sketch->mark[box->cell[i]] > 0;
    }
}

/* As the chart was before the change, or is. */
static void colours_set(struct box *box, bool before)
{
    const struct resize_sketch *sketch = box->sketch;
    const struct resize_parts *parts = &sketch->room->parts;
    int ncols = sketch->frame->ncols;

    for (int i = 0; i < box->wide * box->tall; i++) {
        int cell = box->cell[i];

        if (cell < 0)
            continue;
        box->colour[i] = before && box->changed[i] ? sketch->was[sketch->mark[cell] - 1] : sketch->cell[cell];
        box->corner[i] = before ? parts->diagonal[cell]
                                : resize_parts_corner(parts, sketch->cell, cell % ncols, cell / ncols);
    }
}

static void unite(struct box *box, int a, int b)
{
    int root_a = root_of(box->root, a), root_b = root_of(box->root, b);

    box->root[root_a > root_b ? root_a : root_b] = root_a > root_b ? root_b : root_a;
}

static void box_hang(struct box *box)
{
    for (int i = 0; i < box->wide * box->tall; i++)
        box->root[i] = i;
    for (int i = 0; i < box->wide * box->tall; i++) {
        bool beside = i % box->wide + 1 < box->wide, above = i / box->wide + 1 < box->tall;

        if (box->cell[i] < 0)
            continue;
        above = above && box->cell[i + box->wide] >= 0;
        if (beside && box->colour[i] == box->colour[i + 1])
            unite(box, i, i + 1);
        if (above && box->colour[i] == box->colour[i + box->wide])
            unite(box, i, i + box->wide);
        if (beside && above && box->corner[i] & 1)
            unite(box, i, i + box->wide + 1);
        if (beside && above && box->corner[i] & 2)
            unite(box, i + 1, i + box->wide);
    }
}

/* The changed squares hang with others, and each root is named by an unchanged square. */
static bool name_roots(struct box *box, int *name)
{
    int first[BOX * BOX];

    for (int i = 0; i < box->wide * box->tall; i++)
        first[i] = -1;
    for (int i = 0; i < box->wide * box->tall; i++)
        if (box->cell[i] >= 0 && !box->changed[i] && first[root_of(box->root, i)] < 0)
            first[root_of(box->root, i)] = i;
    for (int i = 0; i < box->wide * box->tall; i++) {
        if (box->cell[i] < 0)
            continue;
        name[i] = first[root_of(box->root, i)];
        if (name[i] < 0)
            return false;
    }
    return true;
}

/* Every square that was changed has an image in the box; else one would not be looked at. */
static bool box_has_all(const struct box *box)
{
    const struct resize_sketch *sketch = box->sketch;
    const int *orbit_of = sketch->frame->orbit_of;

    for (int k = 0; k < sketch->nchanged; k++) {
        bool found = false;

        for (int i = 0; i < box->wide * box->tall && !found; i++)
            found = box->changed[i] && orbit_of[box->cell[i]] == orbit_of[sketch->changed[k]];
        if (!found)
            return false;
        while (k + 1 < sketch->nchanged && orbit_of[sketch->changed[k + 1]] == orbit_of[sketch->changed[k]])
            k++;
    }
    return true;
}

bool resize_local_same(const struct resize_sketch *sketch)
{
    struct box box = {.sketch = sketch};
    int before[BOX * BOX], now[BOX * BOX];

    if (!box_place(&box))
        return false;
    box_fill(&box);
    if (!box_has_all(&box))
        return false;
    colours_set(&box, true);
    box_hang(&box);
    if (!name_roots(&box, before))
        return false;
    colours_set(&box, false);
    box_hang(&box);
    if (!name_roots(&box, now))
        return false;
    for (int i = 0; i < box.wide * box.tall; i++)
        if (box.cell[i] >= 0 && !box.changed[i] && before[i] != now[i])
            return false;
    return true;
}
