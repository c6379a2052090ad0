/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by weighed*.c alone: the weighings in order of knitting, and the belief they narrow.
 *
 * Weights are those of the yarn itself, in grams; the unknowns are the parts by which each cause
 * may be out (0: as the plan has it), the start of each yarn in grams, and the hands between
 * one weighing and the next.
 */
#ifndef STRANDWISE_WEIGHED_PARTS_H
#define STRANDWISE_WEIGHED_PARTS_H

#include "plan/builder.h"
#include "model/yarn/weighed.h"

/* When: as in plan_weighing. */
struct spot {
    int piece, step, time;
};

/* A yarn on the scale. */
struct scale_yarn {
    double start_g, start_sd_g, start_band_g, not_yarn_g;
    bool start_weighed;
    int last;                   /* spot of its last weighing; -1: none */
    double last_g, last_sd_g;   /* and what it weighed then; at the start where there is none */
    bool noted;                 /* the note of too little used was given */
};

struct weighed {
    struct builder *builder;
    struct plan *plan;
    const struct given_weighing *given[WEIGHINGS_MAX]; /* [nspots], in order */
    struct spot spot[WEIGHINGS_MAX];
    int nspots;
    struct weighed_belief before, belief; /* by the swatch; with every reading taken so far */
    double scale_step_g;
    double *row, *scratch;      /* [belief.n] */
    struct scale_yarn *scale;   /* by yarn */
    double chi_square;
    int nsurprises;
    struct plan_weighed *out;
};

double weighed_grams_per_m(const struct weighed *all, int yarn); /* by the band, as believed first */
/* Metres of a yarn from cast-on to the spot, as the plan has them. */
double weighed_expected_m(const struct weighed *all, int yarn, const struct spot *spot);
/* row: sign x what each unknown does to the grams of a yarn used between two spots. */
void weighed_set_use(const struct weighed *all, int yarn, const struct spot *from,
                     const struct spot *to, double sign, double *row);
int weighed_start_index(const struct weighed *all, int yarn);
struct spot weighed_begin(void);

/* Before any weighing. */
struct weighed_belief weighed_belief_make(const struct weighed *all);
/* With all of them taken: each yarn to the end, what should be left on the way, and what is short. */
void weighed_look_ahead(struct weighed *all);

#endif
