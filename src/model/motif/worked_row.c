/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "worked_row.h"

#include <string.h>

/* Stitches from a place on to the next of that yarn, or to the end; in a ring all others. */
static int way_to(const uint8_t *yarn_of, int n, int place, uint8_t yarn, bool ring, bool *met)
{
    int beyond = n - place - 1;
    const uint8_t *next = memchr(yarn_of + place + 1, yarn, (size_t)beyond);

    *met = true;
    if (next)
        return (int)(next - yarn_of) - place - 1;
    next = ring ? memchr(yarn_of, yarn, (size_t)place) : NULL;
    if (next)
        return beyond + (int)(next - yarn_of);
    *met = false;
    return ring ? n - 1 : beyond;
}

struct worked_way worked_way(const struct worked_row *row, int place, uint8_t yarn)
{
    bool ring = row->ends == FLOATS_RING, is_float;
    struct worked_way way;

    way.above = way_to(row->yarn_of, row->n, place, yarn, ring, &way.met_above);
    way.below = way_to(row->backwards, row->n, row->n - 1 - place, yarn, ring, &way.met_below);
    is_float = row->ends == FLOATS_TURN ? way.met_below && way.met_above : way.met_below || way.met_above;
    way.span_sts = is_float ? way.below + way.above + 1 : 0;
    return way;
}

/* Fewest catches of the floats on both sides of a stitch of the yarn. */
static int64_t catches_beside(const struct worked_row *row, const struct worked_way *way)
{
    bool to_ends = row->ends != FLOATS_TURN;

    if (row->ends == FLOATS_RING && !way->met_above) /* the only one: all round */
        return floats_fewest_catches(row->n - 1, row->leave_sts);
    return (way->met_below || to_ends ? floats_fewest_catches(way->below, row->leave_sts) : 0) +
           (way->met_above || to_ends ? floats_fewest_catches(way->above, row->leave_sts) : 0);
}

int64_t worked_put(struct worked_row *row, int place, uint8_t yarn, int *reach)
{
    struct worked_way cut = worked_way(row, place, yarn), joined = worked_way(row, place, row->yarn_of[place]);

    *reach = cut.span_sts > *reach ? cut.span_sts : *reach;
    *reach = joined.span_sts > *reach ? joined.span_sts : *reach;
    row->yarn_of[place] = row->backwards[row->n - 1 - place] = yarn;
    return floats_fewest_catches(cut.span_sts, row->leave_sts) - catches_beside(row, &cut) +
           catches_beside(row, &joined) - floats_fewest_catches(joined.span_sts, row->leave_sts);
}
