/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * All catches of a band as worked, and how close together they fall over the whole of it.
 */
#ifndef STRANDWISE_CROWDING_H
#define STRANDWISE_CROWDING_H

#include "plan/plan.h"

struct arena;

/* The catches once upwards, row by row: of one repeat, or of whole rows where they have two
 * ends. Columns from 0 at the right; row r has column[start[r]] up to column[start[r + 1]], in no
 * order. */
struct worked_catches {
    const struct plan_band *band;
    bool ring; /* columns modulo ncols; else whole rows */
    int ncols;
    int64_t times; /* such widths side by side: the repeats of a ring, else 1 */
    const int64_t *start;
    const int32_t *column;
};

/* Given: a band with its catches placed. Returned: memory from that arena. */
struct worked_catches worked_catches_read(struct arena *arena, const struct plan_band *band);

/* Column of the drawing (right side stitches, one repeat, left side stitches): every copy of
 * the repeat falls on the one that is drawn. */
int worked_drawn_column(const struct worked_catches *worked, int column);
int worked_drawn_ncols(const struct plan_band *band);

/* Round each stitch: how many catches within `within_in` of its middle, by the two gauges, its
 * own included; over the join of the repeat, and into the repeat above and below where there is
 * one. Where copies of a stitch differ, the most of them.
 * Given: each[rows * columns drawn], row-major, zeroed, or NULL. Squares that are no stitch stay 0.
 * Returned: the most, and where: of equals one that is itself a catch, then the first from below
 * and from the right. Row and column -1 where there is no catch.
 * Notes: other bands, selvedge and steek count for nothing. Columns count as they are drawn,
 * squares that are no stitch among them. Checked: counted by hand on small charts, and stitch by
 * stitch by a second program of the tests. */
struct plan_crowding crowding_read(struct work *work, const struct plan_band *band, double per_in,
                                   double rows_per_in, double within_in, uint32_t *each);

/* Stitches of such a circle, the one in the middle included. */
int64_t crowding_circle_sts(double per_in, double rows_per_in, double within_in);

#endif
