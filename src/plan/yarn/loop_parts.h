/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of the yarn in a stitch share: what she measured, its fit, its judgement.
 */
#ifndef STRANDWISE_LOOP_PARTS_H
#define STRANDWISE_LOOP_PARTS_H

#include "plan/builder.h"

enum { GROUP_STRANDED, GROUP_PLAIN, GROUP_YARNS };

/* What an observation is, in her file. */
struct observed {
    enum loop_method method;
    const struct swatch *swatch;
    struct place at;
    int nth;                         /* "unravelled 2" is the 2nd */
    int yarn;                        /* -1: none named */
    const struct given_weighed *ball; /* NULL: no ball weighed */
};

/* What she measured, as lengths of yarn with their errors. */
struct measured {
    struct builder *builder;
    struct loop_observation *list;
    struct observed *from; /* [count], as list */
    struct observed entry; /* being added */
    int count, ways;
    enum loop_method method;
    bool all_even; /* stranded rows, and none of them uneven */
    double scatter_sd, tape_sd_mm;
};

/* --- yarn/loop_judge.c --- */

/* Each says what it finds, and widens loop.excess where the measurements are doubted.
 * No stitch, or a slack that cannot be. */
void judge_unsolved(const struct measured *all, const struct loop_fit *fit, int status);
/* Tape and scale too far apart to be used together; impossible: so is the fit, and they are why where
 * they disagree at all. Returned: it was said. */
bool judge_kinds_refused(const struct measured *all, const struct loop_fit *fit, bool impossible);
/* The measurements among themselves; and the stitch, of that yarn which is farther off, against the
 * gauge. group_of NULL: all alike. */
void judge_left_over(const struct measured *all, const struct loop_fit *fit);
void judge_gauge(const struct measured *all, const struct loop_fit *fit, const int *group_of,
                 const struct plan_gauge *gauge);

/* --- yarn/loop.c --- */

double loop_density_mm(const struct builder *builder, const struct plan_gauge *gauge);

#endif
