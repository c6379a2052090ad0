/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Parts of the plan: what another gauge, size or setting would do.
 */
#ifndef STRANDWISE_PLAN_WHATIF_H
#define STRANDWISE_PLAN_WHATIF_H

#include "plan/piece.h"

/* What would put a close call right: one ball less where the last is hardly touched, room to spare
 * in it where it is nearly used up. */
enum change_kind {
    CHANGE_ROUNDS, CHANGE_UPWARDS, CHANGE_REPEATS, CHANGE_CAST_ON, CHANGE_BIND_OFF, CHANGE_SWATCH
};
struct plan_change {
    int yarn;               /* whose close call */
    enum change_kind kind;
    int step;               /* CHANGE_ROUNDS, CHANGE_UPWARDS, CHANGE_REPEATS: index; else -1 */
    int64_t rounds;         /* CHANGE_ROUNDS: so many fewer, in each piece */
    int other;              /* CHANGE_CAST_ON (with its rib), CHANGE_BIND_OFF: in this yarn; else -1 */
    int stitches;           /* CHANGE_REPEATS: of the band with a repeat less, */
    double finished_in;     /* how wide it is then, */
    bool has_wanted;
    double smaller_in;      /* and by how much smaller than wanted, if has_wanted */
    double saved_m;         /* of the yarn, all pieces */
    struct ball_count buy;  /* then */
};

/* What another gauge does to the floats, against her own. */
enum float_verdict {
    VERDICT_NONE_LONG,  /* no float is over the limit there */
    VERDICT_TOO_LONG,   /* some are there, none at her own gauge */
    VERDICT_LONGER,     /* some are at both, and the longest is longer there */
    VERDICT_NOT_LONGER  /* some are at both, and the longest is no longer there */
};

struct plan_try {
    const char *name;
    enum float_verdict verdict;
    bool fits;                /* false: the chart is wider than the piece at this gauge; piece then unset */
    const char *why;          /* words, if it does not */
    struct plan_piece piece;
};

/* A gauge of the ladder, with the fewest catches, placed quickly. */
struct plan_rung {
    bool own;                 /* her own gauge */
    struct plan_try at;       /* name: the yarn weight it is usual for; "": none */
};

/* From one gauge to another the floats of a band take so many catches at the fewest. */
struct plan_ladder_step {
    int band;
    double from_per_in, to_per_in; /* the ends themselves belong to it as the limit has it */
    int64_t catches;          /* of one repeat, or of whole rows where they have two ends */
    bool own;                 /* her own gauge lies in it */
};

/* The same chart and measure from fine yarn to heavy. */
struct plan_ladder {
    bool by_weight;           /* gauges by the table of yarn weights; else those she gave */
    bool own_known;           /* she has a gauge */
    const struct plan_rung *rungs; /* [nrungs], fine to heavy */
    int nrungs;
    int own;                  /* rung; -1: none */
    int free_to;              /* the heaviest rung down to which no float is too long; -1: none */
    int heaviest, finest;     /* rungs whose chart fits; -1: none */
    int heavier;              /* the next below hers, hardly hers excepted, whose chart fits; -1: none */
    int first_longer;         /* the first below hers whose floats are too long, or longer too long; -1 */
    bool counts_left_out;     /* counts of stitches and balls of a project without a gauge */
    const struct plan_ladder_step *steps; /* by band, fine to heavy */
    int nsteps;
};

/* The same piece graded to another finished measure, at her gauge. */
struct plan_size {
    double measure_in;
    bool own;                 /* the measure of this plan */
    int furthest;             /* band furthest from what is wanted */
    int same_as;              /* an earlier size on the same stitches throughout; -1: none */
    struct plan_try at;       /* name: that of the size */
};

#endif
