/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A row as it is worked: runs of one yarn, what is caught behind which stitch, and the
 * shortest unit that repeats. A pure reading of the plan, made row by row when asked, so
 * that a large chart's words need no memory of their own.
 */
#ifndef STRANDWISE_ROWS_H
#define STRANDWISE_ROWS_H

#include "plan/plan.h"

struct arena;

/* Columns of a whole row: right side stitches, all repeats, left side stitches, from 0 at the right. */
int plan_whole_columns(const struct plan_band *band);
/* One row as worked from the right, side stitches and all repeats; selvedge and steek left out.
 * Given: room for stitches + side_sts; column_of: the column of each, may be NULL. Returned: how many. */
int plan_read_whole_row(const struct plan_band *band, int row, uint8_t *yarn_of, int *column_of);
/* The band as if one repeat were all of it. */
struct plan_band plan_lone_repeat(const struct plan_band *band);
/* The catches of a row as worked, by column, then strand: of one repeat, or of the whole row where rows
 * have two ends (band->outer). */
const struct catch_mark *plan_row_catches(struct arena *arena, const struct plan_band *band, int row,
                                          int *count);

struct row_catch {
    int strand; /* yarn caught */
    int behind; /* the how-many-th stitch of the run, from 1, as worked */
};

struct row_run {
    int yarn;
    int stitches;
    const struct row_catch *catches;
    int ncatches;
};

/* before, then unit `times` times, then after: in the order of knitting. In the round
 * without a steek before and after are empty. times 1: the unit is the whole row (always so for
 * a row in one yarn); 0: a row without a stitch. */
struct plan_row {
    int row;            /* of the chart, from 0 */
    bool right_side;    /* false: a wrong-side (purl) row of flat work */
    int yarns[GRID_YARNS_MAX]; /* in it, in order of first use */
    int nyarns;
    const struct row_run *before, *unit, *after;
    int nbefore, nunit, nafter;
    int times;
    int stitches;       /* all of it, for the check; selvedge and steek left out */
    int unit_stitches;
    int join_stitches;  /* run that goes on over the join of one unit and the next; 0: none */
    int join_yarn;
    uint64_t tight;     /* strands of which a catch stands on one of the row below or shares its stitch */
};

/* Row `row` of the chart in its `time`-th working upwards (both from 0; flat rows alternate
 * right and wrong side through the piece). Memory from work's arena. */
void plan_row_read(struct work *work, const struct plan *plan, const struct plan_band *band,
                   int row, int time, struct plan_row *out);

#endif
