/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The outputs: each reads the sealed plan and appends to a text. None computes.
 */
#ifndef STRANDWISE_RENDER_H
#define STRANDWISE_RENDER_H

#include "base/text.h"
#include "plan/plan.h"
#include "words/words.h"

/* The whole plan, in the order she needs it. */
void render_report(struct work *work, const struct plan *plan, const struct words_style *style,
                   struct text *out);

/* The words for each round or row of every band. */
void render_directions(struct work *work, const struct plan *plan,
                       const struct words_style *style, struct text *out);

/* The ladder of gauges alone; a plan that has one. */
void render_ladder(struct work *work, const struct plan *plan, const struct words_style *style,
                   struct text *out);

/* The whole plan as JSON, and the schema that says what is in it (docs/plan.schema.json). */
void render_json(const struct plan *plan, struct text *out);
void render_json_schema(struct text *out);

#endif
