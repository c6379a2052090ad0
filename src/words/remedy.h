/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A way round a repeat in words: its name, what to do, what it costs, why there is none. Whoever asks
 * fit_answer() calls these: the plan and the sum `fit`.
 */
#ifndef STRANDWISE_REMEDY_H
#define STRANDWISE_REMEDY_H

#include "model/fit/fit.h"

/* "another count", "shape", "plain columns", "trim or pad", "part repeats", "another gauge", "redraw" */
const char *remedy_kind_name(enum fit_kind kind);

/* Sets word and choice of each: what she writes to pick it. */
void remedy_name(struct work *work, struct fit_answer *answer);
/* Sets brief and line of each, once all that they tell is known. */
void remedy_say(struct work *work, struct fit_answer *answer);

/* Why there is none of a kind (for FIT_TRIM_OR_PAD: twice, FIT_PART_REPEATS and the others: false),
 * as a clause without capital and stop: "another needle moves a gauge by 6 % at the most". */
const char *remedy_why_not(struct work *work, const struct fit_case *facts, enum fit_kind kind, bool twice);

#endif
