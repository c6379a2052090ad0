/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Charts drawn: one band on one sheet, from the right side with its catches, from the wrong
 * side with its strands, or as a map of where its catches crowd.
 */
#ifndef STRANDWISE_DRAW_H
#define STRANDWISE_DRAW_H

#include "plan/plan.h"
#include "render/sheet/sheet.h"

struct draw_style {
    bool wrong_side;
    bool changes;   /* right side with the stitches that could be changed, in place of the catches */
    bool blank;     /* right side without the catches: to be filled in */
    double cell_mm; /* width of a stitch; 0: as large as a page allows, within reason */
};

struct sheet *draw_band(struct work *work, const struct plan *plan, const struct plan_band *band,
                        const struct draw_style *style);

/* Where catches fall close together over the band, from the right side; wrong_side is of no
 * account. */
struct sheet *draw_dents(struct work *work, const struct plan *plan, const struct plan_band *band,
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
