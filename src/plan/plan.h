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
#include "base/tables.h"
#include "plan/piece.h"
#include "plan/whatif/whatif.h"

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
