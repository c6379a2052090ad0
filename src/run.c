/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run.h"

#include "base/arena.h"
#include "base/diag.h"
#include "check/check.h"
#include "plan/motif/proofread.h"
#include "read/chart/chart.h"
#include "read/project/project.h"

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

static const struct chart *const *read_charts(struct work *work, const struct project *project)
{
    const struct chart **charts =
        arena_alloc(work->arena, (size_t)project->nparts, sizeof *charts);

    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND)
            charts[i] = chart_read_band(work, project, &project->parts[i]);
    return charts;
}

/* NULL where the file could not be read. */
static const struct project *read_and_check(struct work *work, const char *path,
                                            const struct chart *const **out,
                                            const struct proofreading **proof)
{
    const struct project *project = project_read(work, path); /* read */
    const struct chart *const *charts;

    if (!project)
        return NULL;
    charts = read_charts(work, project);
    check_project(work, project, charts); /* check */
    if (!diagnostics_fatal(work->diagnostics))
        *proof = proofread(work, project, charts);
    *out = charts;
    return project;
}

enum run_status run_check(struct work *work, const char *path, struct run_checked *checked)
{
    const struct chart *const *charts;

    *checked = (struct run_checked){NULL, NULL, NULL};
    checked->project = read_and_check(work, path, &charts, &checked->read);
    if (checked->project && !diagnostics_fatal(work->diagnostics))
        checked->plan = plan_build(work, checked->project, charts); /* model, plan; the caller renders */
    return run_verdict(work);
}

enum run_status run_plan(struct work *work, const char *path, const struct plan **plan)
{
    struct run_checked checked;
    enum run_status status = run_check(work, path, &checked);

    *plan = checked.plan;
    return status;
}

enum run_status run_ladder(struct work *work, const char *path, const struct plan **plan)
{
    const struct project *project = project_read_any_gauge(work, path);
    const struct chart *const *charts;

    if (!project)
        return run_verdict(work);
    charts = read_charts(work, project);
    check_project(work, project, charts);
    if (!diagnostics_fatal(work->diagnostics))
        *plan = plan_build_ladder(work, project, charts);
    return run_verdict(work);
}
