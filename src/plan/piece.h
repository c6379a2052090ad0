/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A band, and a piece: everything that depends on the gauge.
 */
#ifndef STRANDWISE_PIECE_H
#define STRANDWISE_PIECE_H

#include "base/grid.h"
#include "plan/catches/catches.h"
#include "plan/fit/fit.h"
#include "plan/gauge/gauge.h"
#include "plan/motif/motif.h"
#include "plan/wear/wear.h"
#include "plan/yarn/yarn.h"
#include "read/chart/chart.h"
#include "read/project/project.h"

struct plan_band {
    const char *name;
    const char *chart_name;
    int part;                    /* index of its section among the project's parts */
    int begin;                   /* column of her chart, from 0, that is worked first: 0 of all here */
    struct grid drawn;           /* one repeat from there on, yarns sewn on included */
    struct grid knitted;         /* the same with the yarn under them */
    struct grid left, right;     /* side stitches as charted (flat only; ncols 0: none) */
    struct grid left_knitted, right_knitted;
    int repeat_sts, rows, upwards;
    int repeats;
    bool repeats_given;
    int stitches;                /* repeats x repeat_sts */
    int side_sts;
    int stitches_on_needle;      /* with side stitches, selvedge and steek */
    bool has_target;
    struct rational target_sts;  /* exact, if has_target */
    double measure_in, wanted_in, finished_in, ease_ratio; /* measure and wanted 0 without a target */
    double off_part;             /* finished over wanted, less 1; 0 without a target */
    double sewn_in;              /* flat: the edge stitches taken up by a seam; 0: there is none, or no edge */
    bool meets_target;           /* near enough that nothing need be done about it */
    double height_in;
    int first_round;             /* number of its first round in the piece, from 1 */
    int leave_sts;               /* m */
    bool within_gauge;           /* the measure lies within what her own counts leave open; sewn up where it is */
    bool count_as_below;         /* its count is that of the part below: no way round of its own */
    const struct fit_remedy *remedies;
    int nremedies;
    const struct fit_case *fit;  /* what they are judged by; NULL: no measure */
    const struct fit_remedy *remedy; /* the one she picked, followed in all the plan; NULL: none */
    struct plan_colour *colours; /* knitted yarns in it, in yarn order */
    int ncolours;
    const struct catch_map *catches;   /* one repeat */
    bool placed_best;                  /* all at once (proof says how sure), not row by row */
    struct best_proof proof;           /* placed_best only */
    struct plan_spares spares;
    struct plan_tight *tight;          /* one repeat, or whole rows; by column, then row */
    int ntight;
    const struct catch_map *outer;     /* floats at sides, edges or steek; NULL: none */
    int rows_three_colours;      /* rows of one repeat with three or more */
    int64_t over_limit;          /* floats over the limit, one repeat, all colours */
    int longest_sts;             /* of all colours, one repeat */
    double longest_in;
    int64_t worked_over_limit, worked_fewest; /* once upwards, as worked, all colours */
    int worked_longest_sts;
    int64_t lengths_fewest;      /* fewest catches of the floats in colours[].lengths */
    int64_t catches_repeat, catches_fewest_repeat, catches_piece; /* piece: one piece, all upwards */
    int64_t catches_once;        /* of all colours, as theirs */
    int busiest_row;             /* row of the chart with the most catches; -1: none */
    int64_t busiest_catches;     /* in the whole of that row, as worked */
    struct plan_dents dents;     /* nothing in a variant */
    bool has_cliff_above, has_cliff_below;
    struct plan_cliff above, below;
    const struct plan_centre *centre;   /* NULL: not in the round, a try, or too large to look through */
    const struct plan_fronts *fronts;   /* NULL: no steek, a try, empty squares, or too large to look through */
    const struct plan_stretch *stretch; /* NULL: nothing it must pass */
    struct plan_recolours recolours; /* at her own gauge; nothing in a try */
};

/* Everything that depends on the gauge; a [try] has one of its own. */
struct plan_piece {
    struct plan_gauge gauge;
    struct plan_gauge plain_gauge;
    struct plan_loop loop;
    double limit_in;          /* of floats */
    bool limit_catch_at;      /* "catch at": this long or longer */
    struct plan_cast_on cast_on;
    struct plan_step *steps;
    int nsteps;
    struct plan_band *bands;
    int nbands;
    const struct plan_band *tightest_band; /* that passes what it must with least to spare; NULL: none must */
    const struct plan_together *together; /* NULL: one band, or nothing to solve */
    struct plan_yarn *yarns;
    int nyarns;
    const double *step_m;     /* [(nsteps + 1) x nyarns], step by step: metres, one piece; last: sewn on */
    const double (*step_use_m)[USE_COUNT]; /* the same by use */
    const struct plan_border *borders; /* where plain meets stranded, from the cast-on up */
    int nborders;             /* 0 without a plain gauge */
    double bands_height_in;   /* all bands together */
    int64_t catches;          /* one piece */
    int64_t catches_fewest;   /* one piece */
    int64_t rows_three_colours; /* one piece: rows with three or more */
    int longest_sts;
    double longest_in;
    int64_t over_limit;       /* one piece, as worked: floats over the limit */
    bool too_long;            /* some float is over the limit */
    bool very_long;           /* the longest is so long that another technique is worth a thought */
    double finished_low_in, finished_high_in; /* of the first band, by the 95 % interval; NaN: one place */
};

#endif
