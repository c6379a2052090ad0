/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slips of a whole row: one change of one row (or of two neighbours) after which a chart keeps a symmetry
 * that all its other rows vouch for. Nothing is put right here.
 */
#ifndef STRANDWISE_ROW_SLIP_H
#define STRANDWISE_ROW_SLIP_H

#include "symmetry.h"

enum row_slip_kind {
    ROW_SHIFTED,   /* typed one stitch over */
    ROW_EXCHANGED, /* its two yarns exchanged */
    ROW_SWAPPED,   /* it and the row above it have changed places */
    ROW_MISSING,   /* a row is missing under it */
    ROW_DOUBLED    /* it and those above it are the same, one too many */
};

struct row_slip {
    enum row_slip_kind kind;
    int row;
    int like;                 /* missing: a row of this chart that its other half, or copy, is */
    int last;                 /* doubled: of those that are the same */
    int column;               /* shifted: so it stands, 1 to the left, -1 to the right */
    uint8_t yarn[2];          /* exchanged */
    struct symmetry symmetry; /* kept once it is changed; rows counted in the changed chart */
    int nrows;                /* of that chart */
    int kinds;                /* kinds of symmetry it then keeps */
    int agreeing, rows;       /* stitches of other rows that vouch; those rows, of such as are alike one */
};

struct row_slip_rule {
    int breaks;   /* fewest stitches that break each symmetry of that kind as the chart stands */
    int agreeing; /* fewest stitches of other rows that vouch for the one to be kept, */
    int rows;     /* and fewest of those rows that are unlike; of a half-drop, of all */
    int rows_counted; /* the same where a row is missing or too many */
    int whole;    /* a row that repeats itself so often in the repeat of the chart may be meant in its own place */
};

enum { ROW_SLIPS_MAX = 2 };

/* The slips that the chart can be mended by, one alone: two where a row and its partner would do as well.
 * Notes: looked for where no symmetry of a kind holds; of those found the ones after which most kinds hold; more
 * than two as good: none; nor where one of those is as likely meant: a border of rows that repeat a few stitches, the
 * plain rows beside it, rows missing or too many at an edge. A row typed one stitch over may have lost its last
 * stitch. What is not searched through within a second's worth of steps says nothing.
 * Checked: test_row_slips, every whole-row slip put into good charts, and good charts made by dice. */
int row_slips(struct work *work, const struct symmetry_field *field, const struct row_slip_rule *rule,
              struct row_slip slips[ROW_SLIPS_MAX]);

/* Is it a row that the slip changes, or that such a row goes to or comes from? Rows of the chart mended. */
bool row_slip_concerns(const struct row_slip *slip, const struct symmetry_field *mended, int row);

#endif
