/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Counts of several bands solved together: every motif whole, shaping least, sizes nearest. Pure.
 * Called by fit/together.c.
 *
 * Terms: a stage is one band, or several that must share a count, or a part whose count stands.
 */
#ifndef STRANDWISE_TOGETHER_H
#define STRANDWISE_TOGETHER_H

#include <stdbool.h>
#include <stdint.h>

#include "model/gauge/sizing.h"

struct work;

enum {
    TOGETHER_BEST = 3,        /* sets of counts returned at most */
    TOGETHER_COUNTS_MAX = 600 /* counts of one stage that are weighed: those nearest its targets */
};

struct together_stage {
    struct count_rule *rules;
    int nrules;
    struct rational *targets; /* exact, one of each band in it; each above 0 */
    int ntargets;
    int64_t least; /* a whole motif goes in, it passes what it must: no fewer stitches */
    int64_t fixed; /* 0; else this count and no other, whatever the rules */
    int64_t pass;  /* stitches with which it passes what it must: a measure under it is no measure */
};

struct together_question {
    const struct together_stage *stages; /* in the order of knitting */
    int nstages;
    double reach; /* counts so far from each target, as a part of it, are weighed (0.06) */
    double most;  /* with none within reach: no farther than this, as a part of it (0.25); 0: any */
};

struct together_set {
    const int64_t *counts;   /* [nstages] */
    int shaping_rounds;      /* between the stages */
    struct rational off_sts; /* all bands together: stitches from their targets, exactly */
    int64_t shaped_sts;      /* made or taken away */
};

enum together_trouble {
    TOGETHER_FINE,
    TOGETHER_NEVER, /* the rules of a stage are never all met: no count at all */
    TOGETHER_FAR,   /* no count within reach of all targets: the nearest each way are weighed */
    TOGETHER_BEYOND, /* nor within `most` of all: no count anybody would wear */
    TOGETHER_HUGE   /* the numbers are past what is kept exactly */
};

struct together_answer {
    struct together_set sets[TOGETHER_BEST]; /* best first, all different */
    int nsets;
    enum together_trouble *trouble;  /* [nstages] */
    int64_t *below, *above;          /* [nstages]: nearest counts at or under, and over, the mean target;
                                        below 0: none */
    int64_t *multiple;               /* [nstages]: least common multiple of its rules; 0: past 64 bits */
};

/* Returned: the best sets by: fewest rounds of shaping; then fewest stitches off the targets, all
 * bands together; then fewest stitches made or taken away; then the larger count in the first stage
 * that differs.
 * Status: 0; 1 some stage is TOGETHER_FAR; -1 some is TOGETHER_NEVER, TOGETHER_BEYOND or
 *   TOGETHER_HUGE: no sets.
 * Notes: exact over the counts weighed, by dynamic programming from the last stage to the first;
 *   each count keeps its TOGETHER_BEST best continuations.
 * Checked: test_together by brute force; tests/together.sh against glpsol. */
int together_solve(struct work *work, const struct together_question *question,
                   struct together_answer *answer);

#endif
