/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Mirrors that a motif has of its own where the whole chart has none: a star beside a tree, a letter in a
 * name. What is mirrored there in the old chart is to be so in the new.
 */
#include <string.h>

#include "resize_internal.h"

enum {
    SIDE_MIN = 3,   /* stitches and rows: less is a line, or a dot, that goes where there is room */
    PASSES_MAX = 16, /* of putting boxes together */
    PAIR_WEIGHS = 2 /* stitches */
};

/* from .. from + length - 1, in a ring perhaps. */
struct span {
    int from, length;
};

struct box {
    struct span x, y;
};

struct own {
    struct resize_frame *frame;
    struct box *box; /* [old parts] */
    int *root;       /* [old parts]; -1: of the ground */
    int *claim;      /* [old squares] the part whose box lies there, or -1 */
    int *pair, npairs, room; /* squares that are partners, two by two */
};

/* --- motifs ------------------------------------------------------------------------------------ */

/* All that is used; in a ring all but the longest stretch that is not, or the whole where two are as long. */
static struct span span_of(const uint8_t *used, int n, bool ring)
{
    int first = 0, last = n - 1, gap = 0, longest = 0, after = 0;
    bool alone = false;

    while (!used[first])
        first++;
    while (!used[last])
        last--;
    if (!ring)
        return (struct span){first, last - first + 1};
    for (int i = first + 1; i <= first + n; i++) {
        if (!used[i % n]) {
            gap++;
            continue;
        }
        if (gap >= longest) {
            alone = gap > longest;
            longest = gap;
            after = i % n;
        }
        gap = 0;
    }
    return alone ? (struct span){after, n - longest} : (struct span){0, n};
}

/* Two that overlap. */
static struct span span_join(struct span a, struct span b, int n)
{
    int ahead = resize_wrap(b.from - a.from, n), length;

    if (ahead >= a.length) { /* then a begins in b */
        struct span was = a;

        a = b;
        b = was;
        ahead = n - ahead;
    }
    length = ahead + b.length > a.length ? ahead + b.length : a.length;
    return (struct span){a.from, length < n ? length : n};
}

static void boxes_find(struct own *own)
{
    const struct resize_frame *frame = own->frame;
    const struct resize_parts *parts = &frame->parts;
    int ncols = frame->old.ncols, nrows = frame->old.nrows;
    uint8_t *columns = arena_alloc(frame->work->arena, (size_t)ncols, 1);
    uint8_t *rows = arena_alloc(frame->work->arena, (size_t)nrows, 1);

    for (int part = 0; part < parts->nparts; part++) {
        own->root[part] = frame->old.cell[parts->head[part]] == frame->ground ? -1 : part;
        if (own->root[part] < 0)
            continue;
        memset(columns, 0, (size_t)ncols);
        memset(rows, 0, (size_t)nrows);
        for (int at = parts->head[part]; at >= 0; at = parts->next[at])
            columns[at % ncols] = rows[at / ncols] = 1;
        own->box[part] = (struct box){span_of(columns, ncols, true), span_of(rows, nrows, frame->shape.ring)};
    }
}

/* Lays a box down; what lies there already goes with it. */
static bool box_lay(struct own *own, int part)
{
    int ncols = own->frame->old.ncols, nrows = own->frame->old.nrows;
    struct box box = own->box[part];
    bool joined = false;

    for (int y = 0; y < box.y.length; y++)
        for (int x = 0; x < box.x.length; x++) {
            int *claim = &own->claim[(box.y.from + y) % nrows * ncols + (box.x.from + x) % ncols];
            int me = resize_root(own->root, part), other;

            if (*claim < 0)
                *claim = me;
            other = resize_root(own->root, *claim);
            if (other == me)
                continue;
            own->root[me] = other;
            own->box[other].x = span_join(own->box[other].x, own->box[me].x, ncols);
            own->box[other].y = span_join(own->box[other].y, own->box[me].y, nrows);
            joined = true;
        }
    return joined;
}

/* false: too many passes. */
static bool boxes_join(struct own *own)
{
    const struct resize_frame *frame = own->frame;
    bool joined = true;

    for (int pass = 0; pass < PASSES_MAX && joined; pass++) {
        joined = false;
        memset(own->claim, -1, (size_t)frame->old.ncols * (size_t)frame->old.nrows * sizeof *own->claim);
        for (int part = 0; part < frame->parts.nparts; part++)
            if (own->root[part] == part)
                joined |= box_lay(own, part);
    }
    return !joined;
}

/* --- its mirrors ------------------------------------------------------------------------------- */

/* Left to right (along), or top to bottom. */
static bool is_mirrored(const struct own *own, const struct box *box, bool along)
{
    const struct grid *old = &own->frame->old;

    for (int y = 0; y < box->y.length; y++)
        for (int x = 0; x < box->x.length; x++) {
            int to_x = along ? box->x.length - 1 - x : x, to_y = along ? y : box->y.length - 1 - y;
            int here = (box->y.from + y) % old->nrows * old->ncols + (box->x.from + x) % old->ncols;
            int there = (box->y.from + to_y) % old->nrows * old->ncols + (box->x.from + to_x) % old->ncols;

            if (old->cell[here] != old->cell[there])
                return false;
        }
    return true;
}

static int floor_of(int64_t value, int64_t by)
{
    return (int)(value >= 0 ? value / by : -((-value + by - 1) / by));
}

/* The new squares over a span, in part; first may be below 0. */
static struct span span_over(const struct resize_axis *axis, struct span old)
{
    int64_t from = 2 * (int64_t)axis->nnew * old.from + axis->phase;
    int64_t end = from + 2 * (int64_t)axis->nnew * old.length;
    int first = floor_of(from, 2 * (int64_t)axis->nold);

    return (struct span){first, floor_of(end - 1, 2 * (int64_t)axis->nold) - first + 1};
}

/* The nearest line between new squares (odd 0) or middle of one (1) to where the axis of a span truly lies, in half
 * squares; no two are as near, or it lies on one of the other kind. */
static int axis_near(const struct resize_axis *axis, struct span old, int odd)
{
    int64_t at = (int64_t)axis->nnew * (2 * (int64_t)old.from + old.length) + axis->phase;

    return 2 * floor_of(at - odd * (int64_t)axis->nold + axis->nold, 2 * (int64_t)axis->nold) + odd;
}

static void partner_add(struct own *own, int a, int b)
{
    const struct resize_frame *frame = own->frame;

    if (frame->orbit_of[a] == frame->orbit_of[b])
        return; /* always alike */
    if (own->npairs == own->room) {
        own->room = 2 * own->room + 2 * frame->ncells;
        own->pair = arena_grow(frame->work->arena, own->pair, (size_t)own->npairs, (size_t)own->room, sizeof(int));
    }
    own->pair[own->npairs++] = a;
    own->pair[own->npairs++] = b;
}

/* New squares over a box, and their partners across an axis. */
struct field {
    bool along;      /* mirrored left to right, else top to bottom */
    int twice;       /* the axis, in half squares */
    int low, high;   /* in that direction */
    struct span other;
};

static struct field field_make(const struct resize_frame *frame, const struct box *box, bool along, int twice)
{
    struct span mirrored = span_over(along ? &frame->x : &frame->y, along ? box->x : box->y);
    struct span other = span_over(along ? &frame->y : &frame->x, along ? box->y : box->x);
    int last = mirrored.from + mirrored.length - 1, low = mirrored.from;
    int most = along ? frame->shape.nrows : frame->shape.ncols;

    low = twice - 1 - last < low ? twice - 1 - last : low;
    other.length = other.length < most ? other.length : most;
    return (struct field){along, twice, low, twice - 1 - low, other};
}

/* -1: there is none. */
static int field_square(const struct resize_frame *frame, const struct field *field, int i, int j)
{
    return field->along ? resize_square(&frame->shape, i, field->other.from + j)
                        : resize_square(&frame->shape, field->other.from + j, i);
}

static bool meets_itself_behind(const struct resize_frame *frame, const struct field *field)
{
    return (field->along || frame->shape.ring) &&
           field->high - field->low + 1 > (field->along ? frame->shape.ncols : frame->shape.nrows);
}

/* The least area that can differ where the field is a mirror image of itself. */
static int64_t field_least(const struct resize_frame *frame, const struct field *field)
{
    int64_t all = 0;

    if (meets_itself_behind(frame, field))
        return INT64_MAX;
    for (int i = field->low; i <= field->twice - 1 - i; i++)
        for (int j = 0; j < field->other.length; j++) {
            int a = field_square(frame, field, i, j), b = field_square(frame, field, field->twice - 1 - i, j);
            int64_t least = INT64_MAX;

            for (int k = 0; k < frame->ncolours; k++) {
                int64_t cost = (a < 0 ? 0 : frame->cost[a * frame->ncolours + k]) +
                               (b < 0 || b == a ? 0 : frame->cost[b * frame->ncolours + k]);

                least = cost < least ? cost : least;
            }
            all += least;
        }
    return all;
}

/* Does a one-stitch line, two or more long, run along the middle of the box? */
static bool line_on_axis(const struct resize_frame *frame, const struct box *box, bool along)
{
    const struct grid *old = &frame->old;
    int length = along ? box->y.length : box->x.length, middle = (along ? box->x.length : box->y.length) / 2, run = 0;

    for (int i = 0; i < length; i++) {
        int c = along ? box->x.from + middle : box->x.from + i, r = along ? box->y.from + i : box->y.from + middle;
        int here = resize_wrap(r, old->nrows) * old->ncols + resize_wrap(c, old->ncols);
        int beside = resize_wrap(r - !along, old->nrows) * old->ncols + resize_wrap(c - along, old->ncols);

        /* on the other side alike */
        run = old->cell[here] != frame->ground && old->cell[here] != old->cell[beside] ? run + 1 : 0;
        if (run == 2)
            return true;
    }
    return false;
}

/* The axis goes where it truly lies, if that is a line or the middle of a stitch; else to the nearest of the one
 * kind or the other, whichever costs less; if that is all one, to the kind it was on. Below one and a half times
 * the count a one-stitch line along it keeps it on a stitch. */
static struct field field_best(const struct resize_frame *frame, const struct box *box, bool along)
{
    const struct resize_axis *axis = along ? &frame->x : &frame->y;
    struct span old = along ? box->x : box->y;
    int64_t at = (int64_t)axis->nnew * (2 * (int64_t)old.from + old.length) + axis->phase;
    int odd = old.length % 2;
    struct field same, changed;

    if (at % axis->nold == 0)
        return field_make(frame, box, along, (int)(at / axis->nold));
    same = field_make(frame, box, along, axis_near(axis, old, odd));
    if (odd && 2 * axis->nnew < 3 * axis->nold && line_on_axis(frame, box, along))
        return same;
    changed = field_make(frame, box, along, axis_near(axis, old, !odd));
    return field_least(frame, &changed) < field_least(frame, &same) ? changed : same;
}

/* Every new square over the box with its partner, once. */
static void partners_of(struct own *own, const struct box *box, bool along)
{
    const struct resize_frame *frame = own->frame;
    struct field field = field_best(frame, box, along);

    if (meets_itself_behind(frame, &field))
        return;
    for (int i = field.low; i < field.twice - 1 - i; i++)
        for (int j = 0; j < field.other.length; j++) {
            int a = field_square(frame, &field, i, j), b = field_square(frame, &field, field.twice - 1 - i, j);

            if (a >= 0 && b >= 0)
                partner_add(own, a, b);
        }
}

static void partners_find(struct own *own)
{
    const struct resize_frame *frame = own->frame;

    for (int part = 0; part < frame->parts.nparts; part++) {
        const struct box *box = &own->box[part];

        if (own->root[part] != part || box->x.length < SIDE_MIN || box->y.length < SIDE_MIN)
            continue;
        if (box->x.length < frame->old.ncols && is_mirrored(own, box, true))
            partners_of(own, box, true);
        if ((!frame->shape.ring || box->y.length < frame->old.nrows) && is_mirrored(own, box, false))
            partners_of(own, box, false);
    }
}

/* Those of each square, in the frame. */
static void partners_list(const struct own *own)
{
    struct resize_frame *frame = own->frame;
    size_t n = (size_t)frame->ncells;
    int *start = frame->own_start, *fill = arena_alloc(frame->work->arena, n, sizeof *fill);

    for (int i = 0; i < own->npairs; i++)
        start[own->pair[i] + 1]++;
    for (size_t i = 0; i < n; i++)
        start[i + 1] += start[i];
    memcpy(fill, start, n * sizeof *fill);
    frame->own_with = arena_alloc(frame->work->arena, (size_t)own->npairs, sizeof *frame->own_with);
    for (int i = 0; i < own->npairs; i++)
        frame->own_with[fill[own->pair[i]]++] = own->pair[i ^ 1];
}

void resize_own_set(struct resize_frame *frame)
{
    struct arena *arena = frame->work->arena;
    size_t nparts = (size_t)frame->parts.nparts;
    struct own own = {.frame = frame};

    own.box = arena_alloc(arena, nparts, sizeof *own.box);
    own.root = arena_alloc(arena, nparts, sizeof *own.root);
    own.claim = arena_alloc(arena, (size_t)frame->old.ncols * (size_t)frame->old.nrows, sizeof *own.claim);
    frame->own_start = arena_alloc(arena, (size_t)frame->ncells + 1, sizeof *frame->own_start);
    boxes_find(&own);
    if (boxes_join(&own))
        partners_find(&own);
    partners_list(&own);
}

int resize_own_about(const struct resize_frame *frame, const uint8_t *cell, int at)
{
    int unlike = 0;

    for (int i = frame->own_start[at]; i < frame->own_start[at + 1]; i++)
        unlike += cell[frame->own_with[i]] != cell[at];
    return PAIR_WEIGHS * unlike;
}
