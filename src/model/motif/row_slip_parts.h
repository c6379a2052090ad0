/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by row_slip*.c alone.
 */
#ifndef STRANDWISE_ROW_SLIP_PARTS_H
#define STRANDWISE_ROW_SLIP_PARTS_H

#include "row_slip.h"

enum { ROW_FOUND_MAX = 24 };

struct row_found {
    struct row_slip slip;
    bool doubtful; /* as good as any, but as likely meant: a border in its own place, an edge */
    const uint8_t *cell; /* the chart changed */
};

struct row_search {
    struct work *work;
    struct arena *scratch;
    const struct symmetry_field *field; /* as the chart stands */
    const struct row_slip_rule *rule;
    bool open[SYMMETRY_KINDS]; /* no symmetry of it holds, or is broken by a stitch or two */
    int period;                /* the chart repeats itself every so many stitches */
    /* the chart changed */
    struct symmetry_field tried;
    struct grid grid;
    uint8_t *cell;
    int *count; /* by row of it: stitches not in the ground */
    int64_t steps;
    int doubled; /* the row left out */
    struct row_found found[ROW_FOUND_MAX];
    int nfound;
    bool too_many;
};

/* A row of the chart changed. */
uint8_t *row_slip_row(struct row_search *search, int row);

/* The row that a row is brought to; -1: outside. */
int row_slip_partner(const struct symmetry_field *field, const struct symmetry *move, int row);

/* The least part of a row that makes it up. */
int row_slip_period(const uint8_t *cell, int count);

/* The changed chart keeps the move: what vouches for that is noted. (row_slip_judge.c) */
void row_slip_judge(struct row_search *search, const struct symmetry *move, struct row_slip slip);

/* The best of those noted, if they are enough to say so. (row_slip_judge.c) */
int row_slip_choose(const struct row_search *search, struct row_slip slips[ROW_SLIPS_MAX]);

#endif
