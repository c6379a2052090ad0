/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart changed so that its repeat comes to another count: plain columns between motifs, columns
 * left out or worked twice, part of a repeat at the sides; or begun with another stitch. Pure. Called
 * by fit.c, fit/fit.c and gauge/size.c.
 *
 * Terms: the ground of a chart is the yarn with most of its stitches (of equal ones the first);
 * that of a row the same, where the row has it, else the yarn with most stitches in the row.
 */
#ifndef STRANDWISE_REMAKE_H
#define STRANDWISE_REMAKE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/grid.h"

struct work;

enum remake_kind { REMAKE_NOTHING, REMAKE_PLAIN_COLUMNS, REMAKE_COLUMNS, REMAKE_SIDES };

struct remake {
    enum remake_kind kind;
    int plain_columns, plain_after; /* so many, after that many columns of the chart (1 to ncols) */
    int ncolumns, column[2];        /* REMAKE_COLUMNS: from 0, ascending */
    bool twice;                     /* they are worked twice; else left out */
    bool mirrored;                  /* the chart mirrors, and does so still */
    bool one_of_two;                /* one of two alike side by side, between which it mirrors */
    int lone_sts;                   /* stitches alone in their row that go, or become two wide */
    int right_over, left_over;      /* REMAKE_SIDES: stitches before the repeats and after them */
    bool over_plain;                /* in the ground; else part of a repeat */
    bool ring;                      /* no edges: the whole round becomes one repeat */
};

/* A band: what is repeated, and what stands at its sides (ncols 0: nothing). */
struct remake_band {
    struct grid repeat, left, right;
    int repeats;
};

/* The grid begun with column `first`, from 0: the columns before it stand at its end.
 * Checked: test_remake, every cell. */
struct grid remake_begin(struct work *work, const struct grid *grid, int first);

/* Where plain columns part the fewest motifs: after how many columns the fewest rows are torn, then most
 * have their ground on both sides; of equal places the join of the repeats, then the first. */
int remake_plain_place(struct work *work, const struct grid *repeat, bool join_only);

/* Rows in which plain columns after so many columns would part a line of the pattern: one of its yarns
 * stands on both sides, or on one side and on the other in the row above or below, where neither row
 * has it on both. Rows that are one and one are not such a line. Returned: rows from 0, ascending. */
const int *remake_torn_rows(struct work *work, const struct grid *repeat, int after, int *count);

/* Rows that lose a run of colour from one chart to the other, looked at round the ring: a vein, a stem or
 * a dot, or the ground between two. Rows that are one and one are not such a line.
 * Returned: rows from 0, ascending.
 * Checked: test_trim: by hand; random charts, by the runs that lose every stitch. */
const int *remake_lost_rows(struct work *work, const struct grid *was, const struct grid *now, int *count);

/* What may not be touched. */
enum remake_ends {
    REMAKE_RING,     /* no edges: any column */
    REMAKE_OPEN,     /* edges: not one of two that mirror each other over the join, which stand at them */
    REMAKE_KEEP_ENDS /* side stitches go with the first and last column: neither */
};

/* Columns to leave out (change -1, -2) or to work twice (1, 2), so that the chart mirrors still if
 * it mirrors: those with which the fewest rows lose a run of colour, then with the fewest lone stitches,
 * then with the fewest that differ from a neighbour, then the first. One column is on the mirror line, or
 * one of two alike beside it. Two in a chart without a mirror do not touch.
 * Returned: false where there is no such column, or fewer than two would be left.
 * Checked: test_remake, test_trim: against every choice there is. */
bool remake_find_columns(struct work *work, const struct grid *repeat, int change, enum remake_ends ends,
                         struct remake *remake);

/* Two yarns in turn, through the join of the repeat too. */
bool remake_is_one_and_one(const struct grid *repeat, int row);

/* Given: knitted: the repeat with what lies under yarns sewn on; its rows' grounds are used. band:
 * as charted, or as knitted. Returned: the band changed; false: more cells than a chart may have.
 * Checked: test_remake: charts by hand; every mirror kept, over all charts of a small size. */
bool remake_apply(struct work *work, const struct remake *remake, const struct grid *knitted,
                  const struct remake_band *band, struct remake_band *changed);

#endif
