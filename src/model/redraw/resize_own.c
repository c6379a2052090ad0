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

struct box {
    struct resize_span of[2]; /* by `along`: rows, columns */
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
static struct resize_span span_of(const uint8_t *used, int n, bool ring)
{
    int first = 0, last = n - 1, gap = 0, longest = 0, after = 0;
    bool alone = false;

    while (!used[first])
        first++;
    while (!used[last])
        last--;
    if (!ring)
        return (struct resize_span){first, last - first + 1};
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
    return alone ? (struct resize_span){after, n - longest} : (struct resize_span){0, n};
}

/* Two that overlap. */
static void span_join(struct resize_span *a, struct resize_span b, int n)
{
    int ahead = resize_wrap(b.from - a->from, n);

    if (ahead >= a->length) { /* then a begins in b */
        struct resize_span was = *a;

        *a = b;
        b = was;
        ahead = n - ahead;
    }
    if (ahead + b.length > a->length)
        a->length = ahead + b.length < n ? ahead + b.length : n;
}

static const struct resize_axis *axis_of(const struct resize_frame *frame, bool along)
{
    return along ? &frame->x : &frame->y;
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
        own->box[part] = (struct box){{span_of(rows, nrows, frame->shape.ring), span_of(columns, ncols, true)}};
    }
}

/* Old square number i in that direction and j in the other; either may go on round the ring. */
static int box_square(const struct resize_frame *frame, const struct box *box, bool along, int i, int j)
{
    int c = box->of[true].from + (along ? i : j), r = box->of[false].from + (along ? j : i);

    return resize_wrap(r, frame->old.nrows) * frame->old.ncols + resize_wrap(c, frame->old.ncols);
}

/* Lays a box down; what lies there already goes with it. */
static bool box_lay(struct own *own, int part)
{
    struct box box = own->box[part];
    bool joined = false;

    for (int y = 0; y < box.of[false].length; y++)
        for (int x = 0; x < box.of[true].length; x++) {
            int *claim = &own->claim[box_square(own->frame, &box, true, x, y)];
            int me = resize_root(own->root, part), other;

            if (*claim < 0)
                *claim = me;
            other = resize_root(own->root, *claim);
            if (other == me)
                continue;
            own->root[me] = other;
            for (int along = 0; along < 2; along++)
                span_join(&own->box[other].of[along], own->box[me].of[along], axis_of(own->frame, along)->nold);
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
static bool is_mirrored(const struct resize_frame *frame, const struct box *box, bool along)
{
    const uint8_t *cell = frame->old.cell;
    int last = box->of[along].length - 1;

    for (int j = 0; j < box->of[!along].length; j++)
        for (int i = 0; i < last - i; i++)
            if (cell[box_square(frame, box, along, i, j)] != cell[box_square(frame, box, along, last - i, j)])
                return false;
    return true;
}

/* The new squares over a span, in part; from may be below 0. */
static struct resize_span span_over(const struct resize_axis *axis, struct resize_span old)
{
    return resize_span_over(axis->nold, axis->nnew, axis->phase, old);
}

/* Where the axis of a span truly lies, in halves of new squares, times the old count. */
static int64_t axis_at(const struct resize_axis *axis, struct resize_span old)
{
    return (int64_t)axis->nnew * (2 * (int64_t)old.from + old.length) + axis->phase;
}

/* The nearest line between new squares (odd 0) or middle of one (1) to where the axis of a span truly lies, in half
 * squares; no two are as near, or it lies on one of the other kind. */
static int axis_near(const struct resize_axis *axis, struct resize_span old, int odd)
{
    int64_t nold = axis->nold;

    return 2 * resize_floor(axis_at(axis, old) - odd * nold + nold, 2 * nold) + odd;
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
    struct resize_span other;
};

static struct field field_make(const struct resize_frame *frame, const struct box *box, bool along, int twice)
{
    struct resize_span mirrored = span_over(axis_of(frame, along), box->of[along]);
    struct resize_span other = span_over(axis_of(frame, !along), box->of[!along]);
    int last = mirrored.from + mirrored.length - 1, low = mirrored.from;
    int most = axis_of(frame, !along)->nnew;

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
           field->high - field->low + 1 > axis_of(frame, field->along)->nnew;
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
    const uint8_t *cell = frame->old.cell;
    int middle = box->of[along].length / 2, run = 0;

    for (int j = 0; j < box->of[!along].length && run < 2; j++) {
        uint8_t here = cell[box_square(frame, box, along, middle, j)];

        /* on the other side alike */
        run = here != frame->ground && here != cell[box_square(frame, box, along, middle - 1, j)] ? run + 1 : 0;
    }
    return run == 2;
}

/* The axis goes where it truly lies, if that is a line or the middle of a stitch; else to the nearest of the one
 * kind or the other, whichever costs less; if that is all one, to the kind it was on. Below one and a half times
 * the count a one-stitch line along it keeps it on a stitch. */
static struct field field_best(const struct resize_frame *frame, const struct box *box, bool along)
{
    const struct resize_axis *axis = axis_of(frame, along);
    struct resize_span old = box->of[along];
    int64_t at = axis_at(axis, old);
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
        struct resize_span x = box->of[true], y = box->of[false];

        if (own->root[part] != part || x.length < SIDE_MIN || y.length < SIDE_MIN)
            continue;
        if (x.length < frame->old.ncols && is_mirrored(frame, box, true))
            partners_of(own, box, true);
        if ((!frame->shape.ring || y.length < frame->old.nrows) && is_mirrored(frame, box, false))
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
