/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The symmetries of a chart that is drawn again over other counts: where each of them goes.
 */
#ifndef STRANDWISE_MOTIF_H
#define STRANDWISE_MOTIF_H

#include <stdbool.h>

#include "base/grid.h"
#include "base/rational.h"
#include "symmetry.h"

/* Every symmetry is a product of these. */
struct motif {
    int nmoves;
    struct symmetry move[SYMMETRY_GENERATORS_MAX];
    bool rows_are_ring;
};

/* symmetry_generators(). */
struct motif motif_find(const struct grid *grid, bool rows_are_ring);

/* The same motif drawn over so many stitches (or rows): where each symmetry goes. */
struct motif_line {
    int count;        /* stitches or rows of the new chart */
    int64_t phase;    /* the new chart is moved by phase / (2 * old count) of its squares, so that
                         an axis in the middle of a stitch stays in one */
    bool keeps[SYMMETRY_GENERATORS_MAX]; /* by move: it is one of the new chart as well */
    bool keeps_middle; /* a centre line on a stitch stays on one, one between two stays between */
};

/* count >= 1. along: of columns, else of rows. */
struct motif_line motif_line_of(const struct motif *motif, bool along, int old_count, int count);

/* The count nearest exact that keeps every symmetry and the middle, at least 1; ties to the
 * larger. 0: none within reach (a part of exact). */
int motif_count_near(const struct motif *motif, bool along, int old_count, struct rational exact,
                     struct rational reach);
/* The same where only some of the moves are needed (by move; NULL: all), and the middle. */
int motif_count_needed(const struct motif *motif, bool along, int old_count, struct rational exact,
                       struct rational reach, const bool *needed);
/* The counts that keep middle lines whatever becomes of the rest; at least 1. */
int motif_count_middle(const struct motif *motif, bool along, int old_count, struct rational exact);

#endif
