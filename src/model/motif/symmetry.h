/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The symmetries of a chart: those it has, and those it nearly has.
 *
 * A symmetry is a move of the squares after which every stitch lies on one of its own colour. One type
 * and one partner function serve the redraw, the proof-reading and the stitches to change; one test of a
 * move serves the search for all that hold and the search for the nearest of a kind.
 */
#ifndef STRANDWISE_SYMMETRY_H
#define STRANDWISE_SYMMETRY_H

#include <stdbool.h>
#include <stdint.h>

#include "base/grid.h"

struct work;

enum symmetry_kind {
    SYMMETRY_ACROSS, /* mirrored left to right; row > 0: and moved up, a glide */
    SYMMETRY_TURN,   /* turned half round */
    SYMMETRY_UPSIDE, /* mirrored top to bottom; column > 0: and moved along, a glide */
    SYMMETRY_ALONG,  /* moved along the row: the repeat is made of smaller ones */
    SYMMETRY_DROP,   /* moved up, and along: a half-drop and its like */
    SYMMETRY_KINDS
};

/* The square (row, column) goes to (row_is_mirrored ? row - r : row + r, likewise column). */
struct symmetry {
    enum symmetry_kind kind;
    bool column_is_mirrored, row_is_mirrored;
    int column, row;
    int times;        /* so many of them lead home, 2 or more */
    int64_t breaks;   /* fewest stitches to be changed so that it holds */
    int64_t agreeing; /* stitches not in the ground, in rows and columns of several yarns, whose partner is another
                         stitch and of their yarn */
};

/* A chart and what lies beside it: itself again (ring: sideways; ring_rows: upwards), or the ground. */
struct symmetry_field {
    const struct grid *grid;
    bool ring, ring_rows;
    uint8_t ground;
};

/* The yarn most stitches are in; of several the first. */
uint8_t symmetry_ground(const struct grid *grid);

/* Returned: the move alone; 0 for what is measured in a chart. */
struct symmetry symmetry_make(enum symmetry_kind kind, int column, int row);

/* Where a column, or a row, goes, through the join. */
int symmetry_column(const struct symmetry *symmetry, int column, int ncols);
int symmetry_row(const struct symmetry *symmetry, int row, int nrows);

/* The partner of a stitch: false where it lies outside (in the ground, then). */
bool symmetry_partner(const struct symmetry_field *field, const struct symmetry *symmetry, int row,
                      int column, int *partner_row, int *partner_column);

/* --- those that hold -------------------------------------------------------------------------- */

enum { SYMMETRY_GENERATORS_MAX = 5 };

/* Every symmetry of a chart whose columns are a ring, and whose rows are one too where rows_are_ring, is a product
 * of these. Returned: how many.
 * Notes: moves along and up form a lattice, of which the least two generate all; of each way of mirroring one is
 *   enough, since two of a kind differ by a move of the lattice. Where the chart is mirrored both ways the
 *   half-turn follows and is not listed. Where the rows are no ring, top to bottom is mirrored about the
 *   middle of the chart, or of its halves, only: about any other row the top would have to meet the bottom.
 * Checked: test_motif, every move tried on random small charts, and every product of those found. */
int symmetry_generators(const struct grid *grid, bool rows_are_ring,
                        struct symmetry found[SYMMETRY_GENERATORS_MAX]);

/* The first axis at or after `from` (0 or more), and less than ncols beyond it, about which every row is its own
 * mirror image through the join: column c and column axis - c (around the ring) alike. -1: none. Axis 2 c is the
 * middle of column c, 2 c + 1 the line at its left; axis and axis + ncols are the two lines of one mirror.
 * Notes: columns are numbered by their stitches first, so that a large chart is not read again for each axis.
 * Checked: test_symmetry, every chart of 2 x 4 in three yarns read both ways from every line. */
int symmetry_next_mirror(struct work *work, const struct grid *grid, int from);

/* --- those that nearly hold ------------------------------------------------------------------- */

/* Charts of more stitches are not looked at. */
enum { SYMMETRY_CELLS_MAX = 1000000 };

struct symmetry_wish {
    int64_t most_breaks;
    bool straight;     /* no glides */
    int64_t steps_max; /* stitches looked at before the search is given up; 0: some seconds' worth */
};

enum symmetry_found {
    SYMMETRY_NONE,
    SYMMETRY_FOUND,
    SYMMETRY_GIVEN_UP /* too large, or a chart that nearly has very many */
};

/* The one of a kind that fewest stitches break; of equals the first by row, then column.
 * Notes: without a ring, axes up to a quarter of the chart off its middle, and no moves that way. Moves by a
 * part of the width or height, since any other comes home on the way of one of those; without a ring
 * upwards those moves up, not straight, that are home after the height.
 * Checked: every chart of 2 x 4, 3 x 3 and 4 x 2 in two yarns against the nearest of all charts that any
 * move of that kind leaves as it is; charts with no ring against a pair by pair count on a wider sheet. */
enum symmetry_found symmetry_best(struct work *work, const struct symmetry_field *field,
                                  enum symmetry_kind kind, const struct symmetry_wish *wish,
                                  struct symmetry *best);

/* Step by step through the moves that symmetry_best() tries: the next after *move, times too.
 * Given: of the first its kind alone, times 0. Returned: false: there are no more. */
bool symmetry_next(const struct symmetry_field *field, bool straight, struct symmetry *move);

#endif
