/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The whole job as one list of calls: read -> check -> model -> plan -> render.
 */
#ifndef STRANDWISE_RUN_H
#define STRANDWISE_RUN_H

#include "base/work.h"
#include "plan/plan.h"
#include "strandwise.h"

/* RUN_DONE, or what the faults collected so far amount to. */
enum run_status run_verdict(struct work *work);

struct proofreading;

/* Read and check the project at path, its charts proof-read, and plan it for what only that shows. NULL what
 * a fault did not let be. */
struct run_checked {
    const struct project *project;
    const struct proofreading *read;
    const struct plan *plan;
};
enum run_status run_check(struct work *work, const char *path, struct run_checked *checked);

/* The plan alone (*plan NULL after a fault). */
enum run_status run_plan(struct work *work, const char *path, const struct plan **plan);

/* The same with the ladder of gauges in the plan, asked for or not; it need not have a swatch. */
enum run_status run_ladder(struct work *work, const char *path, const struct plan **plan);

#endif
