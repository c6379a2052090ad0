/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Parts of the plan: floats and catches of a band.
 */
#ifndef STRANDWISE_PLAN_CATCHES_H
#define STRANDWISE_PLAN_CATCHES_H

#include <stdbool.h>
#include <stdint.h>

#include "model/catches/best.h"
#include "model/catches/carry.h"
#include "model/catches/catches.h"
#include "model/catches/floats.h"

struct plan_colour {
    int yarn;
    struct float_tally tally;    /* one repeat, closed ring */
    double longest_in;
    int64_t catches, spares;     /* one repeat, as placed (spares: over the fewest) */
    int64_t piece_stitches, piece_float_stitches; /* one piece, as worked, all times upwards */
    int64_t piece_catches, piece_spares;
    int piece_longest_sts;       /* flat: with the edges */
    const int64_t *histogram;    /* [histogram_limit + 1]: how many floats of each length, one repeat */
    int histogram_limit;
    struct float_tally worked;   /* once upwards, as worked: all repeats; whole rows where they have two ends */
    const int64_t *lengths;      /* as histogram; of whole rows where they have two ends */
    int lengths_limit;
    int turn_longest_sts;        /* flat, edges = turn: the most it crosses at an edge from row to row */
    int turn_row;                /* after that row of the chart */
};

/* A step of the gauge at which the number of catches changes. */
struct plan_cliff {
    double per_in;        /* at or beyond it (above: at or over; below: just under) */
    int leave_sts;        /* longest run left loose there */
    int64_t catches;      /* fewest there: in one repeat, or in whole rows where they have two ends */
};

/* Where catches fall closest together over the whole band. */
struct plan_crowding {
    double within_in;      /* all round a stitch */
    int64_t most;          /* catches within that of one stitch */
    int row, column;       /* of that stitch; column of the drawing, side stitches counted; -1: none */
    bool notable;          /* so many among the stitches there that it is said */
    int64_t step[3];       /* catches from which it is somewhat, more, and notably crowded */
    double ridge_ratio;    /* times the mean of all columns, */
    int64_t ridge_least;   /* and so many at least: a line of catches upwards may show */
};

/* Catches beyond the fewest in one repeat, and how the same repeat would stand without any
 * (0 in a try, and without spares). */
struct plan_spares {
    int64_t catches;
    int64_t without_stacked, without_doubled, without_touching;
};

/* A catch that stands on one of the row below, or behind a stitch with another. */
struct plan_tight {
    int row, column; /* column of the chart, or of the whole row where rows have two ends */
    uint8_t strand;
};

#endif
