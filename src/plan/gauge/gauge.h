/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Parts of the plan: gauge, counts to cast on, the steps from cast-on to bind-off.
 */
#ifndef STRANDWISE_PLAN_GAUGE_H
#define STRANDWISE_PLAN_GAUGE_H

#include <stdbool.h>
#include <stdint.h>

#include "model/gauge/gauge.h"
#include "model/gauge/shaping.h"
#include "read/project/project.h"

/* One fabric's gauge. */
struct plan_gauge {
    bool measured;        /* false (plain only): the stranded gauge stands in */
    struct gauge gauge;
    double per_in, rows_per_in;         /* the exact values as numbers */
    double stitch_width_mm, row_height_mm;
    bool round, washed;                 /* how the swatch was worked */
    bool wanted;                        /* no swatch shows it yet: a way round asks for it */
    double needle_mm;                   /* 0: not said */
    const char *needle_us;              /* the US size of that, from the table; NULL: none */
    const char *weight_name;            /* yarn weight whose published range holds the gauge; NULL: none */
};

/* A count she might cast on for the first part of her piece. */
struct plan_candidate {
    int64_t stitches;    /* with side stitches and, flat, selvedge */
    double finished_in;
    double ease_ratio;
    uint64_t fits_bands; /* bit i: whole repeats of band i */
    bool fits_rib;
    bool chosen;
};

enum step_kind { STEP_CAST_ON, STEP_RIB, STEP_SHAPE, STEP_PLAIN, STEP_BAND, STEP_BIND_OFF };

/* What is done in order, from cast-on to bind-off. Counts leave selvedge and steek out, except
 * on_needle. */
struct plan_step {
    enum step_kind kind;
    const char *name;      /* of the band or plain part; "" otherwise */
    int band;              /* STEP_BAND: index; else -1 */
    int yarn, yarn2;       /* yarn2: purls of a two-colour rib; -1: none */
    int from_sts, to_sts;  /* STEP_SHAPE; else both the count */
    int on_needle;         /* after it */
    int64_t rows;          /* rounds or rows it takes; 0 for a part counted otherwise */
    int64_t first_row;     /* number of its first round, from 1; 0 if it has none */
    double height_in;
    int64_t stitches;      /* worked in it, selvedge and steek left out */
    struct shaping shaping; /* STEP_SHAPE */
    double length_in;      /* STEP_CAST_ON: tail of a long-tail cast-on; else 0 */
    bool counted_otherwise;
    double sewn_in;        /* STEP_PLAIN, flat: as of a band; else 0 */
};

struct plan_cast_on {
    int stitches;      /* on the needle */
    int body_sts;      /* without selvedge and steek */
    int selvedge_sts;  /* both edges together */
    int steek_sts;
    enum cast_on_kind kind;
    int yarn;
    bool has_rib;
    int rib_knit, rib_purl, rib_rounds, rib_sts;
    int rib_even_sts;  /* at a steek: with so many it would end as it begins; 0: it does, or no steek */
    double width_in;
};

#endif
