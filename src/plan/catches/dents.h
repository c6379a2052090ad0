/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where catches stand close together, for drawing: a pure reading of one band of the plan.
 * Columns are those of the drawing, from 0 at the right: right side stitches, one repeat, left
 * side stitches.
 */
#ifndef STRANDWISE_DENTS_H
#define STRANDWISE_DENTS_H

#include "plan/plan.h"

struct dent_mark {
    int row, column;
    bool edge; /* only in the repeat beside an edge */
};

enum dent_kind {
    DENT_STACKED,  /* same column, next row */
    DENT_DOUBLED,  /* two strands behind one stitch */
    DENT_TOUCHING, /* one column apart, next row */
    DENT_NEAR,     /* two columns apart, next row, where catches should stagger by three */
    DENT_KINDS
};

/* From the lower catch to the upper, or a stitch with two strands; each to be drawn once, however
 * many pairs are alike. to_row, to_column: where the upper is drawn. */
struct dent_pair {
    enum dent_kind kind;
    int row, column;
    int to_row, to_column;
    int step;       /* columns to the left of the lower: -2 to 2 */
    bool over_join; /* the upper is in the next copy of the repeat */
    bool over_top;  /* the lower is in the top row, the upper in the first row of the next time */
    int64_t times;  /* so many pairs of one repeat, or of whole rows, once upwards */
};

struct dents {
    int ncols, nrows;
    const struct dent_mark *mark;
    int nmarks;
    const struct dent_pair *pair; /* by row */
    int npairs;
    int64_t once[DENT_KINDS];  /* one repeat, or whole rows where they have two ends; once upwards,
                                  with the join upwards if there is one: as the plan counts them */
    int64_t whole[DENT_KINDS]; /* the whole band, all repeats, all times upwards */
    const int64_t *in_column;  /* [ncols] catches once upwards; where copies differ the most */
    const int64_t *in_row;     /* [nrows] catches in the whole row as worked */
    int64_t most_in_column, most_in_row;
    int64_t ridge_from;    /* catches in a column from which it may show as a ridge */
    const uint32_t *crowd; /* [nrows * ncols], row-major: see crowding.h */
};

/* Checked: totals against the plan's own on all examples; small charts by hand. */
const struct dents *plan_dents_read(struct work *work, const struct plan *plan,
                                    const struct plan_band *band);

#endif
