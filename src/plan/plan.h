/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The plan: all that any output says, built once, const from then on.
 *
 * plan_build() calls the model in order; renderers read this and choose layout and words,
 * never numbers. Yarn indices are those of `yarn` (sections in file order). Rows and columns
 * count from 0 here and from 1 in every output. Lengths: *_in inches, *_mm, *_m metres.
 */
#ifndef STRANDWISE_PLAN_H
#define STRANDWISE_PLAN_H

#include <stdbool.h>
#include <stdint.h>

#include "base/diag.h"
#include "base/grid.h"
#include "base/tables.h"
#include "model/best.h"
#include "model/carry.h"
#include "model/catches.h"
#include "model/fit.h"
#include "model/floats.h"
#include "model/gauge.h"
#include "model/likely.h"
#include "model/loop.h"
#include "model/loop_fit.h"
#include "model/recolour.h"
#include "model/shaping.h"
#include "model/yarn.h"
#include "plan_wear.h"
#include "read/chart.h"
#include "read/project.h"

/* One fabric's gauge. */
struct plan_gauge {
    bool given;          /* false (plain only): the stranded gauge stands in */
    struct gauge gauge;
    double per_in, rows_per_in;         /* the exact values as numbers */
    double stitch_width_mm, row_height_mm;
    bool round, washed;                 /* how the swatch was worked */
    bool wanted;                        /* no swatch shows it yet: a way round asks for it */
    double needle_mm;                   /* 0: not said */
    const char *needle_us;              /* the US size of that, from the table; NULL: none */
    const char *weight_name;            /* yarn weight whose published range holds the gauge; NULL: none */
};

enum slack_origin { SLACK_GIVEN, SLACK_MEASURED, SLACK_TABLE };

/* Yarn in one stitch of one yarn: a group of a fit. */
struct plan_yarn_loop {
    double loop_mm, plain_loop_mm;
    const struct loop_fit *fit; /* NULL: nothing measured */
    int group;
};

/* What one more measurement would do: the range of all the yarn together. */
enum plan_measure {
    MEASURE_NOTHING, /* nothing would help much */
    MEASURE_STRANDED_ROW, MEASURE_PLAIN_ROW, MEASURE_MARKED, MEASURE_WEIGHT, MEASURE_GAUGE
};
struct plan_advice {
    enum plan_measure measure;
    double part_now, part_then; /* within so much, nine times in ten */
    bool wanted;                /* a number of balls hangs on it */
};

/* What was measured does not go together, or not with the gauge: it was cautioned against. */
enum loop_doubt { DOUBT_NONE, DOUBT_TOGETHER, DOUBT_GAUGE };

/* Yarn in one stitch, and how far to trust it. */
struct plan_loop {
    enum loop_method method;
    double loop_mm;        /* in the stranded fabric */
    double plain_loop_mm;  /* in the plain parts */
    double slack_ratio;
    enum slack_origin slack_origin;
    double error_part;     /* 0.12: within 12 %, nine times in ten */
    double gauge_error_part; /* the same of what gauge alone gives */
    const struct loop_fit *fit; /* all yarns alike; NULL: nothing measured */
    int plain_group;       /* group of the plain fabric in it */
    const struct loop_observation *observations; /* [nobservations] */
    int nobservations;
    struct loop_fit_errors errors; /* what the fit was given */
    const struct plan_yarn_loop *yarn; /* by yarn */
    bool by_yarn;          /* not the same for every yarn */
    const struct loop_fit *judged; /* by yarn where it is so; else fit */
    double ball_ratio;     /* what a ball holds for what its band says, by tape and scale; else 1 */
    double excess;         /* of the variance, where more is left over than errors explain; else 1 */
    enum loop_doubt doubt; /* why excess is more */
    struct plan_advice advice;
    double density_mm, width_mm;      /* the same from gauge alone, two ways */
    double thickness_mm;   /* from the ball band's length per gram; NaN without a ball */
    double spread_part;    /* (largest - smallest) / mean of those */
};

/* A count she might cast on for the first part of her piece. */
struct plan_candidate {
    int64_t stitches;    /* with side stitches and, flat, selvedge */
    double finished_in;
    double ease_ratio;
    uint64_t fits_bands; /* bit i: whole repeats of band i */
    bool fits_rib;
    bool chosen;
};

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

/* Stitches of the repeat made in another yarn, so that fewer floats need catching: one stitch and its
 * partners by the symmetries of the chart, or two such changes. Catches: the fewest. */
struct plan_recolour_cell {
    int row, column;
    uint8_t was, yarn;
};
struct plan_recolour {
    const struct plan_recolour_cell *cells; /* by row, then column */
    int ncells;
    int64_t saved_repeat;   /* of one repeat as a ring */
    int64_t saved_piece, saved_all; /* as worked: one piece, all of them */
    int64_t sts_piece;      /* stitches changed in one piece */
    int behind_sts;         /* longest float, behind one of them, of the yarn it was in */
};
struct plan_recolours {
    struct plan_recolour one[RECOLOUR_ONES_MAX]; /* the most saved first */
    int nones;
    bool has_pair;
    struct plan_recolour pair;
    int pair_of[2];         /* of `one`, or -1: others */
    bool too_large;         /* for a search; else, with none, there is none */
    bool pair_certain;
};

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
    int busiest_row;             /* row of the chart with the most catches; -1: none */
    int64_t busiest_catches;     /* in the whole of that row, as worked */
    struct plan_crowding crowding; /* at her own gauge; all 0 in a try */
    bool has_cliff_above, has_cliff_below;
    struct plan_cliff above, below;
    const struct plan_centre *centre;   /* NULL: not in the round, a try, or too large to look through */
    const struct plan_fronts *fronts;   /* NULL: no steek, a try, empty squares, or too large to look through */
    const struct plan_stretch *stretch; /* NULL: nothing it must pass */
    struct plan_recolours recolours; /* at her own gauge; nothing in a try */
};

enum step_kind { STEP_CAST_ON, STEP_RIB, STEP_SHAPE, STEP_PLAIN, STEP_BAND, STEP_BIND_OFF };

/* What is done in order, from cast-on to bind-off. Counts leave selvedge and steek out, except
 * on_needle. */
struct plan_step {
    enum step_kind kind;
    const char *name;      /* of the band or plain part; "" otherwise */
    int band;              /* STEP_BAND: index; else -1 */
    int yarn, yarn2;       /* yarn2: purls of a two-colour rib; -1: none */
    int from_sts, to_sts;  /* STEP_SHAPE; else both the count */
    int on_needle;         /* after it */
    int64_t rows;          /* rounds or rows it takes; 0 for a part counted otherwise */
    int64_t first_row;     /* number of its first round, from 1; 0 if it has none */
    double height_in;
    int64_t stitches;      /* worked in it, selvedge and steek left out */
    struct shaping shaping; /* STEP_SHAPE */
    double length_in;      /* STEP_CAST_ON: tail of a long-tail cast-on; else 0 */
    bool counted_otherwise;
    double sewn_in;        /* STEP_PLAIN, flat: as of a band; else 0 */
};

/* Counts solved together: bands that share a count, or a part whose count stands. */
struct plan_stage {
    const char *names;   /* "rib, shells" */
    uint64_t bands;      /* bit i: band i is in it */
    bool stands;         /* its count is given, not solved */
    bool far;            /* no count within reach: the nearest each way were weighed */
    bool stopped;        /* far, and only because none within reach passes what it must */
};
struct plan_counts {
    const int64_t *counts;   /* [nstages] */
    int shaping_rounds;
    int64_t shaped_sts;
    double off_in;           /* from the measures, all parts that have one together */
    bool planned;            /* these are the plan's */
};
struct plan_together {
    bool followed;           /* the plan takes the best of them */
    const struct plan_stage *stages;
    int nstages;
    const struct plan_counts *sets; /* best first, at most three */
    int nsets;
    double reach;            /* counts so far from a measure, as a part, were weighed */
};

struct plan_cast_on {
    int stitches;      /* on the needle */
    int body_sts;      /* without selvedge and steek */
    int selvedge_sts;  /* both edges together */
    int steek_sts;
    enum cast_on_kind kind;
    int yarn;
    bool has_rib;
    int rib_knit, rib_purl, rib_rounds, rib_sts;
    int rib_even_sts;  /* at a steek: with so many it would end as it begins; 0: it does, or no steek */
    double width_in;
};

/* Where the metres of a yarn go. */
enum yarn_use {
    USE_STITCHES, USE_FLOATS, USE_CATCHES, /* the bands */
    USE_CAST_ON, USE_RIB, USE_PLAIN, USE_SELVEDGE, USE_STEEK, USE_BIND_OFF, USE_SEAM,
    USE_CARRIED, USE_TAILS, USE_DUPLICATE,
    USE_SWATCH, /* where it is counted; once, however many pieces */
    USE_COUNT
};
const char *plan_use_name(enum yarn_use use); /* "stitches of the bands", ... */

/* So many balls are enough with this chance. */
struct plan_enough {
    int64_t balls;
    double chance;
};

/* How much a yarn is likely to come to. */
struct plan_likely {
    double low_m, high_m;         /* as worked, nine times in ten */
    double buy_low_m, buy_high_m; /* against balls of that length; NaN without a ball */
    const struct plan_enough *enough; /* [nenough], from the fewest worth a thought */
    int nenough;
    double confidence;            /* how sure she wants to be */
    int64_t sure_balls;           /* to buy, enough with that confidence; 0 without a ball */
    double sure_chance, more_chance; /* of sure_balls, and of one more */
    double margin_chance;         /* of the balls of the margin rule */
    double buy_log_sd;            /* spread of what is to be bought */
};

enum close_call { CALL_NONE, CALL_NEARLY_USED, CALL_HARDLY_TOUCHED };

/* Figures for all `make` pieces together. */
struct plan_yarn {
    const char *name;
    const char *mark;
    unsigned char rgb[3];
    bool shade_given;
    bool used, knitted;
    int over;               /* sewn on over this yarn; -1: knitted */
    int64_t stitches, float_stitches, catches, spares; /* of the bands */
    int64_t duplicate_stitches, duplicate_spots;
    double use_m[USE_COUNT];
    double each_use_m[USE_COUNT]; /* of one piece; the swatch belongs to none */
    double each_m, each_grams;    /* their sum, and its weight (NaN without a ball) */
    double swatch_m;              /* what the swatch takes, counted or not */
    int64_t swatch_balls;         /* where it is counted: so many fewer to buy, were it ripped */
    double stitch_m, float_m, catch_m, other_m, length_m; /* before margin */
    bool has_ball;
    double ball_g, band_m;  /* as the band says */
    double ball_m;          /* as long as what was measured makes it: band_m x loop.ball_ratio */
    double grams;           /* of length_m; NaN without a ball */
    double margin;          /* part */
    double have_m, have_g;  /* in hand, used first; NaN grams without a ball */
    double have_used_m;     /* so much of that, the margin included */
    bool have_enough;       /* with the margin, and as sure as wanted: nothing to buy */
    double need_m, need_g;  /* to buy, margin and joins in it, what is in hand off it; NaN grams as above */
    bool beyond_count;      /* balls no longer than a join, or too many: no number is enough */
    struct ball_count buy;  /* after margin, joins and what is in hand, and more where they are not
                               enough with the confidence wanted; balls 0 without a ball */
    int64_t margin_balls;   /* by the margin alone */
    double loop_mm;         /* in its own stitch; sewn on: in the one it covers */
    struct plan_likely likely;
    enum close_call close_call;
    bool may_differ;        /* more than one ball of it, what is in hand counted: one may be an odd lot */
    uint64_t hide_bands;    /* then: bit i: an odd ball of it would hardly show in band i */
    bool leftover_may_do;   /* so little of one ball that a leftover may be enough */
    struct carry_tally carry; /* one piece */
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
    int longest_sts;
    double longest_in;
    int64_t over_limit;       /* one piece, as worked: floats over the limit */
    bool too_long;            /* some float is over the limit */
    bool very_long;           /* the longest is so long that another technique is worth a thought */
    double finished_low_in, finished_high_in; /* of the first band, by the 95 % interval; NaN: one place */
};

/* One of her swatches, as its yarn is reckoned. */
struct plan_swatch {
    bool plain;
    double side_in;         /* of each side, borders included; 0: the stitches that were weighed */
    bool taken;             /* she did not say: a border taken all round what was counted */
};
enum { PLAN_SWATCHES = 2 };

/* What should be left of each yarn at the end of a step. */
struct plan_weighing {
    int piece;              /* from 1 */
    int step;               /* index; -1: before the first; nsteps: all sewn */
    int time;               /* of a band worked several times upwards: after that time; else 0 */
    const double *left_g;   /* [nyarns], all balls together; NaN: no ball known */
};

/* The last place at which so much must be left that it shows, and can still be helped. */
struct plan_weigh_by {
    int yarn;
    int piece, step, time;  /* as above: where it is */
    int64_t row;            /* before that row of the chart or part, from 1; 0: before the step */
    double rest_g, need_g;  /* of the rest as reckoned; so that it is enough 19 times in 20 */
};

/* --- what the scale said on the way ----------------------------------------------------------- */

enum weighed_verdict {
    WEIGHED_NOTHING, /* so little was used that the scale hardly shows it */
    WEIGHED_WITHIN,  /* scale, start and hands explain it, nine times in ten */
    WEIGHED_MORE, WEIGHED_LESS, /* more or less than they explain */
    WEIGHED_FAR_MORE, WEIGHED_FAR_LESS /* so far off that something else is looked for */
};

/* What one yarn weighed, net of what is no yarn, and since it was weighed before. */
struct plan_weighed_reading {
    int number;             /* of her weighing, from 1 */
    int yarn;
    int piece, step, time;  /* as in plan_weighing */
    double weighed_g;
    double should_g;        /* by the plan, from what it began with */
    double reckoned_g, used_g; /* since the time before */
    double off_part;        /* used / reckoned - 1; NaN where too little was reckoned */
    double explained_part;  /* of what was reckoned: start, scale and hands, nine times in ten; NaN likewise */
    enum weighed_verdict verdict; /* WEIGHED_WITHIN for the first of all */
};

/* A yarn to the end, by the swatch alone or by the scale as well. */
struct plan_outlook {
    double rest_g, rest_m, low_m, high_m; /* still to be knitted, nine times in ten */
    double length_m;        /* all of it: used and still to be knitted; metres by the band */
    double chance;          /* that what there is is enough */
    struct ball_count buy;  /* in all, with the margin on what is still to be knitted */
    enum close_call close_call;
    int64_t more_balls;     /* to buy besides, to be as sure as she wants */
    double more_chance;     /* with those */
    double by_need_g;       /* at the weigh-by of the yarn; NaN: none, or it is past */
};

/* weighed false: never weighed; the others told of the hands, and all of it is still to be knitted. */
struct plan_weighed_yarn {
    int yarn;
    bool weighed;
    int piece, step, time;  /* when last */
    double start_g;         /* what it began with, net */
    bool start_weighed;     /* by the scale, not by the bands */
    double start_band_g;    /* by the bands */
    double left_g;
    double factor;          /* still to be knitted, after / before */
    struct plan_outlook before, after;
    int weigh_by;           /* index of its weigh-by where that is still to come; else -1 */
    bool runs_out;          /* likelier than not */
    struct plan_weigh_by out; /* then: about where; need_g unset */
};

struct plan_weighed {
    struct plan_weighed_reading *readings; /* in order of knitting */
    int nreadings;
    struct plan_weighed_yarn *yarns;
    int nyarns;
    double excess;          /* of the variance, where the weighings differ by more than errors explain; else 1 */
    struct plan_weighing *ahead; /* what should be left from here on */
    int nahead;
    double scale_step_g;    /* the coarsest she weighed with */
};

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

struct plan {
    const char *title;        /* "" if none */
    const char *project_name; /* the file */
    int make;
    bool round;
    bool cm_first;            /* the project is in centimetres: say those first */
    bool child;
    bool child_limit_longer;  /* a longer limit was asked for in a child's thing */
    double height_wanted_in;  /* 0: not asked */
    enum edge_habit edges;
    enum bind_off_kind bind_off;
    int bind_off_yarn;
    double tail_in;
    double carry_up_in;
    int stagger_cols, clear_ends;
    bool spare_catches;
    struct plan_piece piece;
    struct plan_candidate *candidates;
    int ncandidates;
    struct plan_try *tries;
    int ntries;
    const struct plan_size *sizes; /* as listed */
    int nsizes;
    const struct plan_ladder *ladder; /* NULL: not asked for */
    struct plan_duplicate *duplicates;
    int nduplicates;
    struct plan_duplicate *duplicate_yarns; /* of the whole piece, one for each yarn among them */
    int nduplicate_yarns;
    double pace_sts_per_hour; /* of two-colour rows */
    bool pace_given;
    struct plan_exchanged exchanged;
    struct plan_swatch swatches[PLAN_SWATCHES];
    int nswatches;            /* 0 without a band: then none is reckoned */
    const struct plan_change *changes; /* by yarn */
    int nchanges;
    const struct plan_weighing *weighings;
    int nweighings;
    const struct plan_weigh_by *weigh_by;
    int nweigh_by;
    const struct plan_weighed *weighed; /* NULL: nothing was weighed on the way */
    const struct allowance **basis; /* rows of the tables the numbers stand on */
    int nbasis;
    const struct diag *notes;  /* cautions and notes given on the way, in file order */
    int nnotes;
    const struct project *project; /* for places and words as typed; numbers are above */
};

/* Returned: the plan, or NULL when a fault was reported. charts[i] belongs to part i. */
const struct plan *plan_build(struct work *work, const struct project *project,
                              const struct chart *const *charts);
/* The same with the ladder, asked for or not. Without a swatch the plan is for the middle of the yarn
 * weight Medium, so that there is one to set the others against. */
const struct plan *plan_build_ladder(struct work *work, const struct project *project,
                                     const struct chart *const *charts);

#endif
