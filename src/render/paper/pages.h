/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whole papers to print, as PDF on A4: the plan for the bag, and a lesson sheet for a class.
 */
#ifndef STRANDWISE_PAGES_H
#define STRANDWISE_PAGES_H

#include "base/text.h"
#include "plan/plan.h"

/* One page for the bag; the charts of all bands from the right side, then from the wrong side;
 * the rest of the report in words. Status: 0, or -1 reported. */
int pages_plan(struct work *work, const struct plan *plan, struct text *out);

/* For each of the bands: the chart blank with an exercise; for each, the answers; for each, the
 * wrong side. Status: 0, or -1 reported. */
int pages_lesson(struct work *work, const struct plan *plan, const struct plan_band *const *bands,
                 int nbands, struct text *out);

#endif
