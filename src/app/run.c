/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run.h"

#include "base/arena.h"
#include "base/diag.h"
#include "check/check.h"
#include "read/chart.h"
#include "read/project.h"

enum run_status run_verdict(struct work *work)
{
    int n = 0;
    const struct diag *all;

    if (!diagnostics_fatal(work->diagnostics))
        return RUN_DONE;
    all = diagnostics_sorted(work->diagnostics, &n);
    for (int i = 0; i < n; i++)
        if (all[i].code == DIAG_FILE_MISSING || all[i].code == DIAG_FILE_WRITE)
            return RUN_FILE;
    return RUN_MEND;
}

enum run_status run_plan_of(struct work *work, const char *path, const struct project **read,
                            const struct plan **plan)
{
    const struct project *project = project_read(work, path); /* read */
    const struct chart **charts;

    *read = project;
    if (!project)
        return run_verdict(work);
    charts = arena_alloc(work->arena, (size_t)project->nparts, sizeof *charts);
    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND)
            charts[i] = chart_read_band(work, project, &project->parts[i]);
    check_project(work, project, charts); /* check */
    if (plan && !diagnostics_fatal(work->diagnostics))
        *plan = plan_build(work, project, charts); /* model, plan; the caller renders */
    return run_verdict(work);
}

enum run_status run_plan(struct work *work, const char *path, const struct plan **plan)
{
    const struct project *project;

    return run_plan_of(work, path, &project, plan);
}
