/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The symmetries of a chart, through the join of its repeat.
 *
 * A symmetry is a move of the squares after which every stitch lies on one of its own colour.
 * The columns are a ring (the repeat goes on); the rows are one where the chart is worked
 * several times upwards. All symmetries follow from at most five; those are what is kept.
 */
#ifndef STRANDWISE_MOTIF_H
#define STRANDWISE_MOTIF_H

#include <stdbool.h>

#include "base/grid.h"
#include "base/rational.h"

enum { MOTIF_MOVES_MAX = 5 };

enum motif_kind {
    MOTIF_ALONG,   /* moved along the row: the repeat is made of smaller ones */
    MOTIF_DROP,    /* moved along and up: a half-drop and its like */
    MOTIF_ACROSS,  /* mirrored left to right, row > 0: and moved up */
    MOTIF_UPSIDE,  /* mirrored top to bottom, column > 0: and moved along */
    MOTIF_TURN     /* turned half round */
};

/* The square (row, column) goes to (row_is_mirrored ? row - r : row + r, likewise column), each
 * modulo the chart. */
struct motif_move {
    enum motif_kind kind;
    bool column_is_mirrored, row_is_mirrored;
    int column, row;
};

/* Every symmetry is a product of these. Where the chart is mirrored both ways the half-turn
 * follows and is not listed. */
struct motif {
    int nmoves;
    struct motif_move move[MOTIF_MOVES_MAX];
    bool rows_are_ring;
};

int motif_move_column(const struct motif_move *move, int column, int ncols);
int motif_move_row(const struct motif_move *move, int row, int nrows);

/* Every symmetry of the chart.
 * Notes: where the rows are no ring, top to bottom is mirrored about the middle of the chart, or
 *   of its halves, only: about any other row the top would have to meet the bottom.
 * Checked: test_motif, every move tried on random small charts, and every product of those found. */
struct motif motif_find(const struct grid *grid, bool rows_are_ring);

/* The same motif drawn over so many stitches (or rows): where each symmetry goes. */
struct motif_line {
    int count;        /* stitches or rows of the new chart */
    int64_t phase;    /* the new chart is moved by phase / (2 * old count) of its squares, so that
                         an axis in the middle of a stitch stays in one */
    bool keeps[MOTIF_MOVES_MAX]; /* by move: it is one of the new chart as well */
    bool keeps_middle; /* a centre line on a stitch stays on one, one between two stays between */
};

/* count >= 1. along: of columns, else of rows. */
struct motif_line motif_line_of(const struct motif *motif, bool along, int old_count, int count);

/* The count nearest exact that keeps every symmetry and the middle, at least 1; ties to the
 * larger. 0: none within reach (a part of exact). */
int motif_count_near(const struct motif *motif, bool along, int old_count, struct rational exact,
                     struct rational reach);
/* The counts that keep middle lines whatever becomes of the rest; at least 1. */
int motif_count_middle(const struct motif *motif, bool along, int old_count, struct rational exact);

#endif
