/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How close together the catches of a band fall over the whole of it: how many round each stitch,
 * which stand on and beside each other, how many in each column and row. All of it is read from the
 * catches as they are worked.
 */
#ifndef STRANDWISE_DENTS_H
#define STRANDWISE_DENTS_H

#include "plan/plan.h"

struct arena;

/* The catches once upwards: of one repeat, or of whole rows where they have two ends. Columns from
 * 0 at the right. */
struct worked_catches {
    const struct plan_band *band;
    bool ring; /* columns go round; else rows have two ends */
    int ncols;
    int64_t times;    /* such widths side by side: the repeats of a ring, else 1 */
    uint32_t *before; /* [rows][ncols + 1]: catches of that row in the columns before that one */
};

/* Given: a band with its catches placed. Returned: memory from that arena. */
struct worked_catches worked_catches_read(struct arena *arena, const struct plan_band *band);
/* Catches of that stitch, one a strand. */
int64_t worked_catches_at(const struct worked_catches *worked, int row, int column);
/* Column of the drawing: every copy of the repeat falls on the one that is drawn. */
int worked_drawn_column(const struct worked_catches *worked, int column);

/* Fill band->dents and the band's busiest row.
 * Given: a band with its catches placed, dents.within_in, .step, .ridge_ratio, .ridge_least; the
 * gauge, and by how many columns catches are to stagger.
 * Notes: round a stitch over the join of the repeat, and into the repeat above and below where there
 * is one; other bands, selvedge and steek count for nothing. Columns count as they are drawn,
 * squares that are no stitch among them; round those nothing is counted. The closest: of equals one
 * that is itself a catch, then the first from below and from the right.
 * Checked: counted by hand on small charts; totals against the plan's own, and round every stitch by
 * a second program of the tests, on all examples. */
void plan_dents_read(struct work *work, struct plan_band *band, const struct plan_gauge *gauge,
                     int stagger_cols);

/* Stitches all round one within so far, itself included. */
int64_t dents_circle_sts(const struct plan_gauge *gauge, double within_in);

#endif
