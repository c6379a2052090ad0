/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Plans of projects written in a test, at 5 stitches to the inch, and what is said of them. Charts are those of
 * tests/projects.
 */
#ifndef STRANDWISE_FIXTURE_MEASURES_H
#define STRANDWISE_FIXTURE_MEASURES_H

#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "run.h"
#include "base/tables.h"
#include "check/check.h"
#include "fixture_work.h"
#include "read/chart/chart.h"
#include "render/render.h"

#define SWATCH(how) \
    "worked = " how "\nwashed = yes\nover = 4 in\nstitches = 20, 20, 20\nrows = 26, 26, 26\n"
#define ROUND "[swatch]\n" SWATCH("round")
#define FLAT "[project]\nworked = flat\n[swatch]\n" SWATCH("flat")
#define YARNS "[yarn pale]\nmark = .\n[yarn dark]\nmark = x\n"
#define PLAIN_SWATCH(stitches) \
    "[swatch plain]\nworked = round\nwashed = yes\nover = 4 in\nstitches = " stitches "\nrows = 30, 30\n"

static inline struct work work_new(void)
{
    struct work work = fixture_work();

    work.tables = tables_load(&work);
    return work;
}

/* Charts from tests/projects. NULL: refused. */
static inline const struct plan *plan_of(struct work *work, const char *text)
{
    const struct source *source = source_from_text(work, "tests/projects/measures.ini", text);
    const struct project *project = project_read_source(work, source);
    const struct chart **charts =
        arena_alloc(work->arena, (size_t)project->nparts + 1, sizeof *charts);

    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND)
            charts[i] = chart_read_band(work, project, &project->parts[i]);
    if (!diagnostics_fatal(work->diagnostics))
        check_project(work, project, charts);
    return diagnostics_fatal(work->diagnostics) ? NULL : plan_build(work, project, charts);
}

static inline const struct plan *good_plan(struct work *work, const char *text)
{
    const struct plan *plan = plan_of(work, text);

    if (!plan)
        fprintf(stderr, "%s", fixture_printed(work, false));
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    return plan;
}

/* Words as they would stand in one line. */
static inline const char *unfolded(struct work *work, const char *words)
{
    char *line = arena_printf(work->arena, "%s", words), *to = line;

    for (const char *c = line; *c; c++)
        if (*c != '\n' && *c != ' ')
            *to++ = *c;
        else if (to > line && to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
    return line;
}

static inline const char *report_of(struct work *work, const struct plan *plan)
{
    static const struct words_style style = {.width = 80};
    struct text text = text_create(work->arena);

    render_report(work, plan, &style, &text);
    return unfolded(work, text.bytes);
}

static inline void says(const char *words, const char *fact)
{
    CU_ASSERT_PTR_NOT_NULL(strstr(words, fact));
    if (!strstr(words, fact))
        fprintf(stderr, "not said: %s\n", fact);
}

static inline void says_not(const char *words, const char *fact)
{
    CU_ASSERT_PTR_NULL(strstr(words, fact));
    if (strstr(words, fact))
        fprintf(stderr, "said: %s\n", fact);
}

static inline const struct plan_step *step_of(const struct plan *plan, const char *name)
{
    const struct plan_step *found = NULL;

    for (int i = 0; i < plan->piece.nsteps; i++)
        if (plan->piece.steps[i].kind == STEP_PLAIN && strcmp(plan->piece.steps[i].name, name) == 0)
            found = &plan->piece.steps[i];
    CU_ASSERT_PTR_NOT_NULL_FATAL(found);
    return found;
}

static inline bool has_note(const struct plan *plan, enum diag_code code)
{
    for (int i = 0; i < plan->nnotes; i++)
        if (plan->notes[i].code == code)
            return true;
    return false;
}

#endif
