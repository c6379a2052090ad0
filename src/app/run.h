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

/* Read and check the project at path; plan it when plan is not NULL (*plan NULL after a fault). */
enum run_status run_plan(struct work *work, const char *path, const struct plan **plan);
/* The same, handing out the project as read too (NULL: it could not be). */
enum run_status run_plan_of(struct work *work, const char *path, const struct project **project,
                            const struct plan **plan);

#endif
