/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What strandwise.h keeps closed, for the command line, which reads its options by the plan.
 */
#ifndef STRANDWISE_INSIDE_H
#define STRANDWISE_INSIDE_H

#include "base/source.h"
#include "plan/redraw/redraw.h"
#include "run.h"

struct file_list {
    const struct strandwise_file *file;
    int count;
};

struct strandwise {
    struct work work;
    struct file_list list; /* files in memory, */
    struct outside memory; /* and how they are found; where there are none: empty */
    struct run_checked checked; /* after strandwise_plan(), strandwise_ladder(): what there is */
    bool planned; /* one was tried */
    const struct plan_redraw *redraw;
    const char *why;
};

/* Say that what was asked for is not there. Returned: RUN_USAGE. */
enum run_status strandwise_lacks(struct strandwise *core, const char *why);

/* The same as strandwise_redraw(), for another gauge or measure too. */
enum run_status strandwise_redraw_as(struct strandwise *core, const struct redraw_asked *asked);

/* The band of that name; NULL: the only one. Returned: its number; -1, said. */
int strandwise_band(struct strandwise *core, const char *name);

#endif
