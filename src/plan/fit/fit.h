/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Parts of the plan: counts solved together.
 */
#ifndef STRANDWISE_PLAN_FIT_H
#define STRANDWISE_PLAN_FIT_H

#include <stdbool.h>
#include <stdint.h>

#include "model/fit/fit.h"

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

#endif
