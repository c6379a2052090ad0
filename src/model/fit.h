/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * When the repeat does not meet the measure: every way round it, with its cost.
 */
#ifndef STRANDWISE_FIT_H
#define STRANDWISE_FIT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/rational.h"

struct work;

enum fit_kind {
    FIT_ANOTHER_COUNT, /* whole repeats, another size */
    FIT_SHAPE,         /* increase before and decrease after the band (or the reverse) */
    FIT_PLAIN_COLUMNS, /* plain stitches between motifs */
    FIT_PART_REPEATS,  /* whole repeats centred, the rest plain or part motifs at the sides */
    FIT_ANOTHER_GAUGE, /* the gauge at which whole repeats give the size */
    FIT_KIND_COUNT
};

/* "another count", "shape", "plain columns", "part repeats", "another gauge" */
const char *fit_kind_name(enum fit_kind kind);

struct fit_remedy {
    enum fit_kind kind;
    int64_t stitches; /* in the band (without selvedge and steek) */
    int64_t repeats;
    int increase, decrease;  /* FIT_SHAPE: stitches gained before and lost after, or the reverse */
    bool before_is_decrease; /* the reverse: decrease before, increase after */
    int plain_columns;       /* added to each repeat (FIT_PLAIN_COLUMNS) */
    int left_over;           /* stitches beside the whole repeats (FIT_PART_REPEATS) */
    double finished_in;      /* width of the band then, at the gauge it supposes */
    double off_in;           /* finished_in - wanted_in */
    double gauge_per_in;     /* FIT_ANOTHER_GAUGE: stitches per inch needed; else the swatch's */
    const char *line;        /* what to do, in knitter's words, whole sentence(s) */
};

struct fit_question {
    struct rational target_sts; /* exact */
    struct rational per_in;
    int repeat_sts;
    int side_sts; /* flat: side stitches on top of the repeats */
    bool round;
    double gauge_reach; /* how far another needle may move the gauge, as a part (0.06) */
    bool cm_first;      /* the lines say centimetres first */
};

/* Returned: remedies[*count] in a fixed order of kinds, best first within a kind; at most
 * two of a kind. None (0) when the target is itself a whole count that fits.
 * Notes: the body is taken as the target rounded to a whole stitch. */
const struct fit_remedy *fit_remedies(struct work *work, const struct fit_question *question,
                                      int *count);

#endif
