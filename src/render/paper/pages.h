/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whole papers to print on A4: the plan for the bag, and a lesson sheet for a class.
 */
#ifndef STRANDWISE_PAGES_H
#define STRANDWISE_PAGES_H

#include "plan/plan.h"
#include "render/sheet/sheet.h"

/* One page for the bag; the charts of all bands from the right side, then from the wrong side;
 * the rest of the report in words. */
struct sheets pages_plan(struct work *work, const struct plan *plan);

/* For each of the bands: the chart blank with an exercise; for each, the answers; for each, the
 * wrong side. */
struct sheets pages_lesson(struct work *work, const struct plan *plan, const struct plan_band *const *bands,
                           int nbands);

#endif
