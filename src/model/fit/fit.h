/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * When the repeat does not meet the measure: every way round it, with its cost.
 */
#ifndef STRANDWISE_FIT_H
#define STRANDWISE_FIT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/grid.h"
#include "base/rational.h"
#include "model/catches/floats.h"
#include "remake.h"
#include "model/gauge/shaping.h"
#include "model/gauge/sizing.h"

struct work;

enum fit_kind {
    FIT_ANOTHER_COUNT, /* whole repeats, another size */
    FIT_SHAPE,         /* increase before and decrease after the band (or the reverse) */
    FIT_PLAIN_COLUMNS, /* plain stitches between motifs */
    FIT_TRIM_OR_PAD,   /* a column, or a mirror pair, left out or worked twice in each motif */
    FIT_PART_REPEATS,  /* whole repeats centred, the rest plain or part motifs at the sides */
    FIT_ANOTHER_GAUGE, /* the gauge at which whole repeats give the size */
    FIT_REDRAW,        /* the motif drawn anew so many columns wide */
    FIT_KIND_COUNT
};

/* The floats of one piece, all times upwards. */
struct fit_floats {
    bool known;
    int longest_sts;
    double longest_in;
    int64_t over_limit, catches_fewest;
    int leave_sts;       /* the longest left loose */
    int catches_longest; /* what the longest takes; of a redraw, were it as much longer as the motif wider */
};

struct fit_remedy {
    enum fit_kind kind;
    int64_t stitches; /* in the band (without selvedge and steek) */
    int64_t repeats;
    int increase, decrease;  /* FIT_SHAPE: stitches gained before and lost after, or the reverse */
    bool before_is_decrease; /* the reverse: decrease before, increase after */
    int repeat_sts;          /* of the repeat as this remedy has it */
    int plain_columns;       /* added to each repeat (FIT_PLAIN_COLUMNS) */
    int left_over;           /* stitches beside the whole repeats (FIT_PART_REPEATS) */
    struct remake remake;    /* what becomes of the chart; REMAKE_NOTHING: it stays */
    int extra_rounds;        /* rounds (rows) more than with whole repeats as planned */
    /* FIT_SHAPE, once the parts beside the band are known: what is worked there (rounds 0: nothing). */
    bool beside_known;
    struct shaping before, after;
    struct fit_floats floats; /* not known without a chart, or before it is drawn */
    const int *uneven_rows;  /* rows of the chart, one and one as they are, that no longer are so then */
    int nuneven_rows;
    const int *torn_rows;    /* rows in which plain columns part a line of the pattern, or one goes with the
                                columns left out */
    int ntorn_rows;
    bool must, passes;       /* something must go through it, by the chart then; it does, pulled so far */
    double pulls_to_in;
    bool meets;              /* within near_ratio of the measure */
    bool far;                /* more than far_ratio from it */
    double finished_in;      /* width of the band then, at the gauge it supposes */
    double off_in;           /* finished_in - wanted_in */
    double gauge_per_in;     /* FIT_ANOTHER_GAUGE: stitches per inch needed; else the swatch's */
    /* In words, once words/remedy.c has told them. */
    const char *word;        /* of what she writes, the way round: "trim", "plain sides" */
    const char *choice;      /* what she writes to pick it: "plain columns, 5 repeats" */
    const char *brief;       /* what comes of it, in a line: "68 stitches, 8 1/2 in (21.6 cm), ..." */
    const char *line;        /* what to do, in knitter's words, whole sentence(s) */
};

/* The chart of the band, for what a remedy does to floats. Knitted yarns. */
struct fit_chart {
    const struct grid *repeat, *left, *right;
    int repeats; /* as planned */
    int upwards;
    enum float_ends ends; /* FLOATS_RING: no edges */
    struct rational limit_in;
    bool catch_at; /* the limit is the first length that is caught */
};

struct fit_question {
    struct rational target_sts; /* exact */
    struct rational per_in;
    int repeat_sts;
    int side_sts; /* flat: side stitches on top of the repeats */
    bool round;
    double gauge_reach; /* how far another needle may move the gauge, as a part (0.06) */
    bool cm_first;      /* the lines say centimetres first */
    const struct fit_chart *chart; /* NULL: not known */
    double near_ratio;  /* so near the measure, as a part, is as good as met (0.01) */
    double far_ratio;   /* farther from it than this comes after all that is nearer (0.1) */
    double redraw_ratio; /* a motif is drawn anew by this part of its stitches at most (0.1667) */
    const struct count_rule *shared; /* bands that take their count from this one; edges added */
    int nshared;
    bool weighed;       /* another count than its own nearest may be planned: whole counts are offered
                           even where one meets the measure exactly */
    bool rib_goes_on;   /* a rib below has the same count, and must go into it */
    bool plain_stays;   /* plain fabric has a gauge of its own, on its own needle */
    int body_sts;       /* what the rest of the piece keeps; 0: the target, to a whole stitch */
    bool shaped_already; /* the parts beside the band have counts of their own: no more is to shape */
    int bands;           /* so many in the piece: another needle moves them all */
    const char *redraw;  /* what draws the motif anew, up to its columns; NULL: not said */
    int64_t planned_sts; /* what she knits if she picks none; 0: the nearest whole repeats */
    double must_in;      /* what the band must pass, in a known chart; 0: nothing */
    double stitch_ratio, float_ratio; /* how far stitches and floats pull (stretch.h) */
    int selvedge_sts;    /* of side_sts, edge stitches that no line counts */
};

struct fit_case {
    const struct fit_question *question;
    int64_t body_sts; /* what the rest keeps: the target, to a whole stitch, or what is asked */
    double wanted_in;
    int64_t planned_sts;      /* what it is compared with */
    int64_t below, above;     /* whole counts around the target that suit all; below 0: none */
    double pulls_to_in;       /* with planned_sts; 0: nothing to pass */
    bool column_stands[2];    /* a column or two fewer (0) or more (1) would help, but none may go */
    struct fit_floats floats; /* then, if the chart is known */
};
struct fit_answer {
    struct fit_remedy *remedies; /* [count], best first */
    int count;
    struct fit_case facts;
};

/* Returned: the remedies, best first; at most two of a kind, and a third count where only that
 * passes what it must. None (0) when the target is itself a whole count that suits.
 * Ranked: those that do not pass what they must last, and of these those that pull less far than now;
 * before them what is more than far_ratio from the measure; then what has a float that takes more
 * catches than the longest now; then those that meet the measure, before the others; then those that tear a
 * line of the pattern; the others by the nearest size; then chart and
 * needle as they are, before a chart changed by columns, before a new swatch, before a new drawing; then
 * fewest catches, fewest rounds more, nearest size, the order of the kinds.
 * Given: the question lives as long as the answer.
 * Notes: floats are counted in the changed chart, ring or rows with edges. Of more than
 * FIT_CELLS_MAX stitches they are not counted. */
enum { FIT_CELLS_MAX = 20000000 };
struct fit_answer *fit_answer(struct work *work, const struct fit_question *question);

/* Floats of a band at a gauge: leave_sts is the longest left loose. */
struct fit_floats fit_count_floats(struct work *work, const struct fit_chart *chart,
                                   const struct remake_band *band, struct rational per_in);

/* Whole counts with motifs so wide, which go into all bands that share the count too.
 * Checked: test_fit_order: counted out over small repeats. */
struct count_set fit_counts(const struct fit_question *question, int width);

/* Best first, again once more is known of some of them; see above. */
void fit_rank(const struct fit_case *facts, struct fit_remedy *remedies, int count);

#endif
