/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Parts of the plan: yarn, how sure that is, what the scale says.
 */
#ifndef STRANDWISE_PLAN_YARN_H
#define STRANDWISE_PLAN_YARN_H

#include <stdbool.h>
#include <stdint.h>

#include "base/diag.h"
#include "model/yarn/likely.h"
#include "model/yarn/loop.h"
#include "model/yarn/yarn.h"

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
    double spots_m;         /* of what is sewn on: travel and tails of the spots */
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

#endif
