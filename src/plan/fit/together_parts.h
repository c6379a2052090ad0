/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What together.c and together_say.c share.
 */
#ifndef STRANDWISE_TOGETHER_PARTS_H
#define STRANDWISE_TOGETHER_PARTS_H

#include "plan/builder.h"
#include "model/fit/together.h"

/* A stage being put together, with the parts in it. */
struct joint_stage {
    struct together_stage model;
    int *parts; /* of the bands in it, in order of knitting */
    int nparts;
    int fixed_part; /* whose count stands; -1: that of the rib, or none stands */
    struct plan_stage shown;
    const char **names; /* of all in it, the rib too */
    int nnames;
    double must_in; /* what it must pass with model.pass stitches */
};

struct joint {
    struct builder *builder;
    struct joint_stage *stages;
    int nstages;
    int free_bands;    /* whose count is to be found */
    bool rib;          /* a rib that goes on as it is waits for the first stage */
    bool must;         /* she asks for it */
};

/* fit/together.c */
struct count_rule joint_band_rule(const struct plan_band *band); /* edges left out */
const struct part *joint_part(const struct joint *joint, int part);
/* Given: a part that is a band. */
struct plan_band *joint_band(const struct builder *builder, int part);
/* A count within reach of all its measures would suit, and only does not pass what it must. */
bool joint_is_stopped(const struct joint_stage *stage, double reach);

/* What cannot be is reported, and what lies beyond reach. Returned: there are no counts to follow.
 * (fit/together_say.c) */
bool joint_has_trouble(const struct joint *joint, const struct together_answer *answer, double reach,
                       double most);

#endif
