/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of the yarn in a stitch share: what she measured, its fit, its judgement.
 */
#ifndef STRANDWISE_LOOP_PARTS_H
#define STRANDWISE_LOOP_PARTS_H

#include "builder.h"

enum { GROUP_STRANDED, GROUP_PLAIN, GROUP_YARNS };

/* What she measured, as lengths of yarn with their errors. */
struct measured {
    struct builder *builder;
    struct loop_observation *list;
    struct place *at;
    int *yarn; /* -1: none named */
    int count, ways;
    enum loop_method method;
    bool all_even; /* stranded rows, and none of them uneven */
    double scatter_sd, tape_sd_mm;
};

/* --- plan_loop_observed.c --- */

bool measured_any(const struct swatch *swatch);
struct measured measured_open(struct builder *builder);
void measured_add(struct measured *all, const struct swatch *swatch, int group);
/* Metres per gram of the knitted yarns that say it, as much length of one as of the other. NaN: none. */
double measured_metres_per_gram(const struct builder *builder);

/* --- plan_loop_fit.c --- */

/* Fits, judges, and tells the loop of the piece. */
void measured_fit(struct measured *all, bool two_fabrics, const struct plan_gauge *gauge);

/* --- plan_loop_yarns.c --- */

/* Each yarn its own stitch, where the measurements name them and differ by more than chance.
 * group_of[nyarns] is told. Returned: the fit; NULL where all are alike. */
struct loop_fit *yarns_fit(const struct measured *all, int *group_of);
/* by_yarn NULL: alike, or nothing measured. */
void yarns_set(struct builder *builder, const struct loop_fit *by_yarn, const int *group_of);

/* --- plan_loop_judge.c --- */

/* No stitch, or a slack that cannot be. */
void judge_unsolved(const struct measured *all, const struct loop_fit *fit, int status);
void judge_left_over(struct measured *all, const struct loop_fit *fit);
void judge_gauge(struct builder *builder, struct place at, const struct plan_gauge *gauge);

/* --- plan_loop.c --- */

double loop_density_mm(const struct builder *builder, const struct plan_gauge *gauge);

#endif
