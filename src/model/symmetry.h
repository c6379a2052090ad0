/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How nearly a chart is symmetrical: every axis, half-turn and shift tried, through the join of the
 * repeat, and how many stitches break the best of each kind.
 */
#ifndef STRANDWISE_SYMMETRY_H
#define STRANDWISE_SYMMETRY_H

#include <stdbool.h>
#include <stdint.h>

#include "base/grid.h"

struct work;

enum symmetry_kind {
    SYMMETRY_MIRROR,    /* column c and column - c, of rows r and r + row (row not 0: a glide) */
    SYMMETRY_HALF_TURN, /* row r and row - r, column c and column - c */
    SYMMETRY_ROWS,      /* row r and row - r, of columns c and c + column (column not 0: a glide) */
    SYMMETRY_SHIFT,     /* row r + row, column c + column; `times` of them lead home */
    SYMMETRY_KINDS
};

struct symmetry {
    enum symmetry_kind kind;
    int row, column; /* symmetry_best() seeks no glides: 0 of a mirror's other direction */
    int times;       /* shift: 2 or more; else 2 */
    int64_t breaks;  /* fewest stitches to be changed so that it holds */
    int64_t agreeing; /* stitches not in the ground, in rows and columns of several yarns, whose partner is another
                         stitch and of their yarn */
};

/* A chart and what lies beside it: itself again (ring: sideways; ring_rows: upwards), or the ground. */
struct symmetry_field {
    const struct grid *grid;
    bool ring, ring_rows;
    uint8_t ground;
};

/* Charts of more stitches are not looked at. */
enum { SYMMETRY_CELLS_MAX = 1000000 };

/* The yarn most stitches are in; of several the first. */
uint8_t symmetry_ground(const struct grid *grid);

/* The first axis at or after `from` (0 or more), and less than ncols beyond it, about which every row is its own
 * mirror image through the join: column c and column axis - c (around the ring) alike. -1: none. Axis 2 c is the
 * middle of column c, 2 c + 1 the line at its left; axis and axis + ncols are the two lines of one mirror.
 * Notes: columns are numbered by their stitches first, so that a large chart is not read again for each axis.
 * Checked: test_symmetry, every chart of 2 x 4 in three yarns read both ways from every line. */
int symmetry_next_mirror(struct work *work, const struct grid *grid, int from);

/* The partner of a stitch: false where it lies outside (in the ground, then). */
bool symmetry_partner(const struct symmetry_field *field, const struct symmetry *symmetry, int row,
                      int column, int *partner_row, int *partner_column);

/* The one of a kind that fewest stitches break, at most most_breaks; of equals the first by row, then
 * column. Returned: false where there is none.
 * Notes: without a ring, axes up to a quarter of the chart off its middle. Shifts: by a part of the
 * width; where ring_rows, also by half the height, alone and with half the width. In a very large chart
 * that nearly has many, the search for axes stops at a bound of steps, and there is none.
 * Checked: every chart of 2 x 4 and 3 x 3 in two yarns against the nearest of all symmetrical charts;
 * charts with no ring against a pair by pair count on a wider sheet. */
bool symmetry_best(struct work *work, const struct symmetry_field *field, enum symmetry_kind kind,
                   int64_t most_breaks, struct symmetry *best);

#endif
