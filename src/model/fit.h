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
#include "floats.h"
#include "remake.h"

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

/* "another count", "shape", "plain columns", "trim or pad", "part repeats", "another gauge",
 * "redraw" */
const char *fit_kind_name(enum fit_kind kind);

/* The floats of one piece, all times upwards. */
struct fit_floats {
    bool known;
    int longest_sts;
    double longest_in;
    int64_t over_limit, catches_fewest;
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
    int extra_rounds;        /* rounds (rows) of shaping more */
    struct fit_floats floats; /* not known without a chart, or before it is drawn */
    bool meets;              /* within near_ratio of the measure */
    double finished_in;      /* width of the band then, at the gauge it supposes */
    double off_in;           /* finished_in - wanted_in */
    double gauge_per_in;     /* FIT_ANOTHER_GAUGE: stitches per inch needed; else the swatch's */
    const char *choice;      /* what she writes to pick it: "plain columns, 5 repeats" */
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
    int body_sts;       /* what the rest of the piece keeps; 0: the target, to a whole stitch */
    bool shaped_already; /* the parts beside the band have counts of their own: no more is to shape */
    const char *project_name, *band_name; /* for the command that redraws; NULL: not known */
};

/* Returned: remedies[*count], best first; at most two of a kind. None (0) when the target is itself
 * a whole count that fits.
 * Ranked: those that meet the measure, before the others, these by the nearest size; then chart and
 * needle as they are, before a chart changed by columns, before a new swatch or a new drawing; then
 * fewest catches, fewest rounds more, nearest size, the order of the kinds.
 * Notes: floats are counted in the changed chart, ring or rows with edges. Of more than
 * FIT_CELLS_MAX stitches they are not counted. */
enum { FIT_CELLS_MAX = 20000000 };
const struct fit_remedy *fit_remedies(struct work *work, const struct fit_question *question,
                                      int *count);

/* Floats of a band at a gauge: leave_sts is the longest left loose. */
struct fit_floats fit_count_floats(struct work *work, const struct fit_chart *chart,
                                   const struct remake_band *band, struct rational per_in);

/* Best first; see above. */
void fit_rank(const struct fit_question *question, struct fit_remedy *remedies, int count);

#endif
