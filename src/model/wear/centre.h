/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where a motif lies in the round: the start of the round, needle joins.
 *
 * A place between two stitches is the number of the column at its left, from 0 at the right of the
 * repeat: start 0 is where the chart begins. All of one repeat as a ring.
 */
#ifndef STRANDWISE_CENTRE_H
#define STRANDWISE_CENTRE_H

#include <stdbool.h>

#include "base/grid.h"

struct work;

/* What shows where the round starts at `start`. */
struct centre_start {
    int start;
    int jog_rows;    /* rows of the chart whose end meets, at the start, a stitch of the next row that
                        the chart sets beside another yarn */
    int jog_rows_all; /* the same all the times upwards: the last of all has no next row */
    int strand_sts;  /* longest strand over the start: last use in a row to first use in the next */
    int strand_row;  /* the row it leaves, from 0; -1: none */
    int strand_yarn; /* -1: none */
};

/* Of every start: at[ncols], filled. Given: upwards > 1: the last row is followed by the first. Notes: jog: the last
 * stitch of row r lies beside the first of row r + 1, where the chart has the last of row r + 1. No-stitch squares
 * are passed over. Checked: test_centre, by laying the spiral out stitch by stitch. */
void centre_starts(struct work *work, const struct grid *grid, int upwards, struct centre_start *at);

/* A float passes behind the stitches on both sides of a place. */
struct centre_join {
    int rows;        /* in so many rows of the chart */
    int longest_sts; /* the longest of them; 0: none */
};

/* join[ncols], filled. */
void centre_joins(struct work *work, const struct grid *grid, struct centre_join *join);

/* Stitches to each needle so that the fewest floats cross: the inner places near an equal share.
 * Given: `stitches` a multiple of ncols; 2 <= needles <= 8; first the place of the start; reach, how
 * far from its equal share a place may lie. Returned: needle_sts[needles], and what crosses at the
 * inner places together. Each place by itself is the best within reach: rows, then the longest, then
 * the nearest, then the smaller. Checked: test_centre, all places tried. */
struct centre_join centre_needles(const struct centre_join *join, int ncols, int stitches, int needles,
                                  int first, int reach, int *needle_sts);

#endif
