/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Parts of the plan that say how the piece will wear: included by plan.h alone.
 */
#ifndef STRANDWISE_PLAN_WEAR_H
#define STRANDWISE_PLAN_WEAR_H

#include <stdbool.h>
#include <stdint.h>

#include "model/wear/centre.h"

/* One round of the chart, pulled. */
struct plan_stretch_row {
    int yarn;            /* the one that pulls least; -1: the round is in one yarn */
    int64_t own, all;    /* its stitches, and all of them, in one repeat */
    double ratio;        /* times its width relaxed */
    double pulls_to_in;  /* the whole round */
    bool passes;
    bool just_short;     /* by so little that a ruler of eighths does not show it */
};

/* Rounds of the chart that pull alike, for the same reason. */
struct plan_stretch_kind {
    const struct plan_stretch_row *row; /* one of them */
    int *numbers;        /* [count], of the chart, from 1 */
    int count;
};

/* Will a band go over heel, head or hand? */
struct plan_stretch {
    double must_in;
    double stitch_ratio, float_ratio; /* what stitches and floats pull to */
    bool stitch_pulled, float_pulled; /* from a swatch that was pulled; else by the table */
    const struct plan_stretch_row *rows; /* [rows of the band] */
    const struct plan_stretch_kind *kinds; /* [nkinds], the tightest first, then by their first round */
    int nkinds;
    int tightest;        /* row of the chart */
    double pulls_to_in;  /* in that row */
    double spare_in;     /* over must_in; below 0: short */
    bool passes, close;  /* close: passes with next to nothing to spare */
    bool just_short;     /* by so little that a ruler of eighths does not show it */
    double short_in;     /* of must_in; 0 where it passes */
    int stopping;        /* rows that do not pass */
    const int *stopping_rows; /* [stopping], of the chart, from 1 */
    /* What would let it through; all unset where it passes. */
    double need_sts;     /* so many stitches, exactly */
    int need_repeats;    /* in whole repeats; 0: none planned for */
    int64_t need_stitches; /* of those repeats */
    double need_in;      /* their width relaxed */
    bool loosen;         /* looser floats would do: */
    double loosen_float_ratio, loosen_slack_ratio; /* in the tightest row */
    bool loosen_loops;   /* but so loose that they are loops */
    int64_t sew_sts;     /* scarce stitches of the rows that stop it sewn on: so many in a piece */
    int sew_rows;        /* rows of the chart they are in; 0: it would not do */
    int sew_yarn, sew_over; /* the yarn sewn on, and what lies under it; -1: not one alone */
    double needle_per_in, needle_part; /* gauge of the band at which it passes; change of the gauge */
    bool needle_near;    /* another needle may do that */
};

/* What lies on a line upwards through the piece. */
enum plan_line { LINE_NEITHER, LINE_MOTIF, LINE_GAP, LINE_ALIKE };

/* A place where the round may start, at the centre back. */
struct plan_start {
    struct centre_start at;
    int stitch;           /* of her chart as drawn, from 1, for `begin with`; 0: it is not worked as drawn */
    bool over_limit;      /* a strand over it is too long to be left loose */
    enum plan_line front, back; /* what lies opposite, and on it */
};

enum { PLAN_STARTS = 3, PLAN_NEEDLE_WAYS = 3, PLAN_NEEDLES_MAX = 4 };

/* Two halves, three needles, four: so many stitches on each, from the start on. */
struct plan_needles {
    int needles;
    int sts[PLAN_NEEDLES_MAX];
    struct centre_join crosses; /* at the inner places together */
    bool uneven;                /* a needle has over two stitches more or less than its share; then: */
    int even_sts[PLAN_NEEDLES_MAX];  /* all within two of it */
    struct centre_join even_crosses;
};

/* The repeat's mirror lines, and where to start and to divide the round. */
struct plan_centre {
    int motif, gap;       /* half columns, as symmetry_next_mirror() has them; -1: it has no mirror line */
    bool alike;           /* as much motif on the one as on the other */
    struct plan_start now; /* as planned */
    int front_start;      /* start that brings the motif to the centre front; -1: none */
    bool front_half_off;  /* only to within half a stitch */
    enum plan_line front_back; /* what then lies on the centre back */
    struct plan_start front; /* that start, where there is one */
    struct plan_start best[PLAN_STARTS];
    int nbest;
    bool strand_decides;  /* others have fewer jogs than the best, but a strand too long */
    struct plan_needles needles[PLAN_NEEDLE_WAYS];
};

/* The two edges at a steek. Without a mirror line of the chart they cannot mirror each other. */
struct plan_fronts {
    bool known;   /* the chart has a mirror line; else nothing below is */
    int more_sts; /* columns more after the last repeat with which they mirror each other; below 0: fewer; 0: they do */
    int start;    /* column to begin the repeat with, so that whole repeats do; -1: there is none */
};

/* Where a plain part meets a band: the step between their widths. Counts are those a measure counts:
 * flat with the selvedge, in the round without it and without a steek. */
struct plan_border {
    const char *plain_name;
    int band;
    bool plain_below;     /* the plain part is worked before the band */
    int plain_sts, band_sts;
    double plain_in, band_in;
    double step_in, step_part;   /* plain - band, and that as a part of plain; below 0: band wider */
    double drawn_in, drawn_part; /* the same on the plain part's count: what stranding draws in */
    bool slight;          /* too little a step for anything to be done */
    bool shaped;          /* the counts differ: it may be meant */
    bool asked;           /* the plain part has a measure of its own: it is meant */
    /* Remedies; unset where it is slight or meant. */
    double needle_per_in, needle_part; /* gauge of the band without a step; change of the gauge */
    bool needle_near;     /* another needle may do that */
    double even_sts;      /* stitches of the band without a step, exactly */
    int fit_sts, fit_repeats; /* nearest that in whole repeats; 0: none nearer than now */
    const char *fit_sharers; /* rib and bands on the same count, into which it goes too; NULL: none */
    double fit_step_in, fit_step_part;
    const char *fit_line; /* from the part below to the part above, with that count; NULL: no shaping */
    bool fit_stopped;      /* the band on fit_sts would not pass what it must */
    int plain_fit_sts;     /* of the plain part: as wide as the band; 0: those it has */
    int plain_fit_on_needle; /* everything on it: what she writes */
    const char *plain_fit_line; /* shaping between those and the band; NULL: none */
};

#endif
