/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A project read, proof-read and planned, to be redrawn.
 */
#ifndef STRANDWISE_FIXTURE_REDRAW_H
#define STRANDWISE_FIXTURE_REDRAW_H

#include <CUnit/CUnit.h>

#include "run.h"
#include "fixture_plan.h"

struct case_at {
    struct work work;
    struct run_checked checked;
    const char *why;
};

static inline struct case_at open_case(const char *path)
{
    struct case_at at = {.work = fixture_plan_work()};

    CU_ASSERT_EQUAL_FATAL(run_check(&at.work, path, &at.checked), RUN_DONE);
    return at;
}

#endif
