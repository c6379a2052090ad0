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
    double worked_longest_in, start_longest_in, turn_longest_in;
    int64_t catches, spares;     /* one repeat, as placed (spares: over the fewest) */
    int64_t once_catches, once_spares; /* the same, but once upwards as worked where rows have two ends */
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

enum dent_kind {
    DENT_STACKED,  /* same column, next row */
    DENT_DOUBLED,  /* two strands behind one stitch */
    DENT_TOUCHING, /* one column apart, next row */
    DENT_NEAR,     /* two columns apart, next row, where catches should stagger by three */
    DENT_KINDS
};

/* Bits of plan_dents.joined: two strands behind the stitch; or a catch there and one in the row above,
 * or in the first row of the next time upwards, that many columns to the left (-2 to 2), which may be
 * in the next copy of the repeat. */
enum { DENTS_JOINED_HERE = 1 };
static inline uint16_t dents_joined_above(int step, bool over_join)
{
    return (uint16_t)(1U << (step + (over_join ? 8 : 3)));
}

/* How close together catches fall over the whole band. Columns are those of the drawing, from 0 at the
 * right: right side stitches, one repeat, left side stitches; where copies of the repeat differ, the
 * most of them. (catches/dents.h) */
struct plan_dents {
    double within_in;      /* all round a stitch */
    int64_t most;          /* catches within that of one stitch */
    int row, column;       /* of that stitch; -1: none */
    bool notable;          /* so many among the stitches there that it is said */
    int64_t step[3];       /* catches from which it is somewhat, more, and notably crowded */
    int64_t shown[3];      /* from which a drawing has the how-many-th grey: those, or, in a band that goes
                              beyond them, spread over what it has, else it would be one grey all over */
    int ncols, nrows;
    uint32_t *crowd;       /* [nrows * ncols], row-major: catches within that of each stitch */
    uint16_t *joined;      /* likewise: bits as above */
    int64_t once[DENT_KINDS];  /* pairs of one repeat, or whole rows where they have two ends; once upwards,
                                  with the join upwards if there is one */
    int64_t whole[DENT_KINDS]; /* of the whole band, all repeats, all times upwards */
    const int64_t *in_column;  /* [ncols] catches once upwards */
    const int64_t *in_row;     /* [nrows] catches in the whole row as worked */
    int64_t most_in_column;
    double ridge_ratio;    /* times the mean of all columns, */
    int64_t ridge_least;   /* and so many at least: a line of catches upwards may show; */
    int64_t ridge_from;    /* from here on */
};

/* Catches beyond the fewest in one repeat, and how the same repeat would stand without any
 * (0 in a try, and without spares). */
struct plan_spares {
    int64_t catches;
    int64_t without_stacked, without_doubled, without_touching;
    int64_t kept; /* pairs that would stand one above the other, or behind one stitch, without them; at her own gauge */
};

/* A catch that stands on one of the row below, or behind a stitch with another. */
struct plan_tight {
    int row, column; /* column of the chart, or of the whole row where rows have two ends */
    uint8_t strand;
};

#endif
