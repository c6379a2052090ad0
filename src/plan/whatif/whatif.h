/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Parts of the plan: what another gauge, size, setting or way of working would do.
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

/* A colour in some rows, stranded or sewn on: all their copies in all pieces. */
struct plan_duplicate_way {
    double own_m, all_m;  /* yarn of the colour, and of all that are in the rows */
    int64_t catches;      /* fewest */
    int64_t rows_three;   /* rows worked with three colours or more */
    double hours;
};
struct plan_duplicate_row {
    int row;              /* of the chart */
    int under;            /* yarn that lies under the stitches sewn on */
    int64_t stitches;     /* of the colour */
    struct plan_duplicate_way stranded, sewn; /* without what belongs to no row */
};

/* Rows one after another that are alike in all figures, together. */
struct plan_duplicate_group {
    int first_row, last_row; /* of the chart */
    int64_t stitches;
    struct plan_duplicate_way stranded, sewn;
};

enum duplicate_verdict { DUPLICATE_STRAND, DUPLICATE_SEW, DUPLICATE_EITHER };

/* A colour of a band that could be stranded or sewn on afterwards in some of its rows. Or of the
 * whole piece: the same in all its bands at once. */
struct plan_duplicate {
    int band;             /* -1: of the whole piece, and no rows */
    int yarn;
    bool sewn_now;        /* the project has it sewn on */
    bool all_rows;        /* they are all the rows in which the band has it */
    struct plan_duplicate_row *rows;
    int nrows;
    struct plan_duplicate_group *groups; /* the same rows */
    int ngroups;
    int64_t stitches, spots;
    struct plan_duplicate_way stranded, sewn; /* those rows together, and: */
    struct plan_duplicate_way stranded_apart, sewn_apart; /* of those, what belongs to no row: travel
                             and tails of the spots; waits, tails and edges that the other way has not */
    double saved_m, saved_hours; /* by sewing; below 0: by stranding */
    int64_t saved_catches, saved_rows_three;
    enum duplicate_verdict verdict; /* by time; EITHER where too little lies between */
    bool notable;         /* worth being said; of the whole piece: besides what is said of its bands */
    bool hinted;          /* of the whole piece: where three colours in a row, or a very long float, are
                             spoken of, it is said whether sewing it on would pay */
};

/* Ground and pattern exchanged: in every band its two knitted yarns of most stitches, of equal ones
 * the first; others in it, edges and all else as before. */
struct plan_exchanged_band {
    int band;
    int ground, pattern;  /* yarns; ground has most stitches */
    bool others;          /* there are others in it, which keep their places */
};
struct plan_exchanged {
    struct plan_exchanged_band *bands; /* in which it is done */
    int nbands;           /* 0: none, and no yarns either */
    bool one_pair;        /* the same two yarns in all of them */
    bool any_others;
    bool same_balls;      /* to buy, of every yarn */
    struct plan_yarn *yarns; /* as many as the piece has */
};

#endif
