/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Charts drawn: one band on one sheet, from the right side with its catches, from the wrong
 * side with its strands, or as a map of where its catches crowd.
 */
#ifndef STRANDWISE_DRAW_H
#define STRANDWISE_DRAW_H

#include "plan/plan.h"
#include "render/sheet/sheet.h"

/* What a chart shows on its stitches. */
enum draw_show {
    DRAW_CATCHES, /* all catches; from the wrong side the strands, tied */
    DRAW_CHANGES, /* the stitches that could be changed */
    DRAW_DENTS,   /* where catches fall close together */
    DRAW_BLANK    /* nothing: to be filled in */
};

struct draw_style {
    enum draw_show show;
    bool wrong_side; /* DRAW_CATCHES alone */
    double cell_mm;  /* width of a stitch; 0: as large as a page allows, within reason */
};

struct sheet *draw_band(struct work *work, const struct plan *plan, const struct plan_band *band,
                        const struct draw_style *style);

/* The stitches of a band alone, no wider and no higher than that. */
struct sheet *draw_picture(struct work *work, const struct plan *plan, const struct plan_band *band,
                           double width_mm, double height_mm);
/* How high that comes out. */
double draw_picture_height_mm(const struct plan *plan, const struct plan_band *band, double width_mm,
                              double height_mm);

/* Sheets one below the other on one. */
struct sheet *draw_stack(struct work *work, struct sheet *const *sheets, int nsheets);

#endif
