/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Floats: the runs each strand passes behind. Pure.
 *
 * A float of colour c: a maximal run of n >= 1 stitches not in c, between two stitches of c.
 * In the round the row is a ring (one stitch of c in a round of W: n = W - 1). Flat, or
 * across a steek: inner runs, and with anchored edges the runs from each edge. No-stitch
 * squares are skipped: n counts stitches.
 */
#ifndef STRANDWISE_FLOATS_H
#define STRANDWISE_FLOATS_H

#include <stdint.h>

#include "base/grid.h"

enum float_ends { FLOATS_RING, FLOATS_ANCHOR, FLOATS_TURN };

struct float_run {
    int from;  /* index, among the row's stitches (0 = rightmost), of the stitch before the float:
                  the float's p-th stitch is (from + p) mod W; -1: from the right edge */
    int span_sts; /* n */
    uint8_t yarn;
};

/* Columns of the real stitches of a row: column[i] for stitch i from the right; room for
 * ncols. Returned: W. */
int floats_row_columns(const uint8_t *cells, int ncols, int *column);

/* Every float of one row. Given: yarn_of[nstitches], yarn index of each stitch from the right;
 * runs: room for nstitches + 2 * GRID_YARNS_MAX. Returned: how many, ordered by `from`, then yarn.
 * A row in one yarn has none. */
int floats_of_row(const uint8_t *yarn_of, int nstitches, enum float_ends ends,
                  struct float_run *runs);

/* n div (m + 1): the fewest catches that leave no piece over m (m >= 0). */
int floats_fewest_catches(int span_sts, int leave_sts);

struct float_tally {
    int64_t stitches;
    int64_t float_stitches;
    int64_t floats;
    int64_t over_limit;     /* n > m */
    int64_t catches_fewest;
    int longest_sts;        /* 0: none */
    int longest_row;        /* first row (from 0) with it; -1: none */
    int start_longest_sts;  /* round: longest strand over the start, last use in a row to first use in
                               the next (upwards > 1: also last row to first); 0: none */
};

/* Add one row (its runs) to tally[GRID_YARNS_MAX], zeroed before the first row; longest_row
 * becomes -1 where there is no float yet. start_longest_sts is not touched.
 * histogram (may be NULL): histogram[yarn * (limit + 1) + min(n, limit)].
 * Checked: every row of two yarns to 8 and three to 6 stitches, against the definition. */
void floats_tally_row(const uint8_t *yarn_of, int nstitches, const struct float_run *runs, int nruns,
                      int row, int leave_sts, struct float_tally *tally, int64_t *histogram,
                      int histogram_limit);

/* One repeat as a closed ring, all rows. tally[GRID_YARNS_MAX] zeroed and filled; the histogram
 * (may be NULL) is added to. Room in proportion to ncols is taken from work's arena.
 * Notes: a strand over the start is counted where both rows use the yarn; else the yarn waits. */
struct work;
void floats_tally_ring(struct work *work, const struct grid *grid, int leave_sts, int upwards,
                       struct float_tally *tally, int64_t *histogram, int histogram_limit);

#endif
