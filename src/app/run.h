/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The whole job as one list of calls: read -> check -> model -> plan -> render.
 */
#ifndef STRANDWISE_RUN_H
#define STRANDWISE_RUN_H

#include "base/work.h"
#include "plan/plan.h"

enum run_status {
    RUN_DONE = 0,
    RUN_MEND = 1,   /* the project needs mending */
    RUN_USAGE = 2,  /* the command line */
    RUN_FILE = 3    /* a file could not be read or written, or there is no memory */
};

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
