/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "base/work.h"
#include "check_parts.h"

/* --- where yarns are named ---------------------------------------------------------- */

enum use_kind {
    USE_KNITTED, /* cast on, knitted or bound off with it */
    USE_UNDER,   /* lies under a yarn that is sewn on */
    USE_MEASURED, /* was in the swatch */
    USE_WEIGHED  /* on the way; sewn on or knitted */
};

struct use {
    const struct given_yarn *yarn;
    enum use_kind kind;
};

struct uses {
    struct use *use;
    int count;
};

static void add_use(struct uses *uses, const struct given_yarn *yarn, enum use_kind kind)
{
    if (yarn->name)
        uses->use[uses->count++] = (struct use){yarn, kind};
}

/* Four at most for each time: two of a row, one marked, one weighed. */
static void add_measured(struct uses *uses, const struct swatch *swatch)
{
    for (int i = 0; i < SWATCH_TIMES_MAX; i++) {
        add_use(uses, &swatch->unravelled[i].yarn[0], USE_MEASURED);
        add_use(uses, &swatch->unravelled[i].yarn[1], USE_MEASURED);
        add_use(uses, &swatch->marked[i].yarn[0], USE_MEASURED);
        add_use(uses, &swatch->weighed[i].yarn, USE_MEASURED);
    }
}

static int count_weighed(const struct project *project)
{
    int n = project->not_yarn.count;

    for (int i = 0; i < WEIGHINGS_MAX; i++)
        n += project->weighing[i].left.count;
    return n;
}

static void add_weighed(struct uses *uses, const struct given_yarn_grams *all)
{
    for (int i = 0; i < all->count; i++)
        add_use(uses, &all->list[i].yarn, USE_WEIGHED);
}

static struct uses uses_of(struct work *work, const struct project *project)
{
    enum { OUTSIDE_PARTS = 3 + 2 * 4 * SWATCH_TIMES_MAX, IN_A_PART = 3 };
    struct uses uses = {0};

    uses.use = arena_alloc(work->arena,
                           (size_t)(OUTSIDE_PARTS + IN_A_PART * project->nparts + project->nyarns +
                                    count_weighed(project)),
                           sizeof *uses.use);
    add_use(&uses, &project->cast_on.yarn, USE_KNITTED);
    add_use(&uses, &project->cast_on.purl_yarn, USE_KNITTED);
    add_use(&uses, &project->bind_off_yarn, USE_KNITTED);
    for (int i = 0; i < project->nparts; i++) {
        add_use(&uses, &project->parts[i].before.yarn, USE_KNITTED);
        add_use(&uses, &project->parts[i].yarn, USE_KNITTED);
        add_use(&uses, &project->parts[i].after.yarn, USE_KNITTED);
    }
    for (int i = 0; i < project->nyarns; i++)
        add_use(&uses, &project->yarns[i].duplicate_over, USE_UNDER);
    add_measured(&uses, &project->swatch);
    add_measured(&uses, &project->swatch_plain);
    for (int i = 0; i < WEIGHINGS_MAX; i++)
        add_weighed(&uses, &project->weighing[i].left);
    add_weighed(&uses, &project->not_yarn);
    return uses;
}

/* --- named, but not described ------------------------------------------------------- */

static const char *names_of(struct work *work, const struct project *project)
{
    struct text text = text_create(work->arena);

    for (int i = 0; i < project->nyarns; i++)
        text_addf(&text, "%s%s", i == 0 ? "" : ", ", project->yarns[i].name);
    return text.bytes;
}

static void report_unknown(struct work *work, const struct project *project,
                           const struct given_yarn *yarn)
{
    const char **names = arena_alloc(work->arena, (size_t)project->nyarns, sizeof *names);
    const char *near, *todo;

    for (int i = 0; i < project->nyarns; i++)
        names[i] = project->yarns[i].name;
    near = text_nearest(yarn->name, (const char *const *)names, project->nyarns);
    if (near)
        todo = arena_printf(work->arena, "Did you mean %s?", near);
    else if (project->nyarns == 0)
        todo = "Write a section [yarn NAME] for it.";
    else
        todo = arena_printf(work->arena, "Write a section for it, or name one of these: %s.",
                            names_of(work, project));
    diag_add(work->diagnostics, DIAG_YARN_UNKNOWN, yarn->at,
             arena_printf(work->arena, "No section describes a yarn \"%.60s\".", yarn->name), todo);
}

static bool is_sewn(const struct project *project, int yarn)
{
    return yarn >= 0 && project->yarns[yarn].duplicate_over.name;
}

static void check_use(struct work *work, const struct project *project, const struct use *use)
{
    if (use->yarn->index < 0)
        report_unknown(work, project, use->yarn);
    else if (use->kind != USE_UNDER && use->kind != USE_WEIGHED && is_sewn(project, use->yarn->index))
        diag_add(work->diagnostics, DIAG_KEYS_CLASH, use->yarn->at,
                 arena_printf(work->arena, "%s is sewn on afterwards: nothing is knitted in it.",
                              project->yarns[use->yarn->index].name),
                 "Name another yarn here, or take \"duplicate over\" out of its section.");
}

/* --- what lies under ---------------------------------------------------------------- */

static void check_under(struct work *work, const struct project *project, int index)
{
    const struct yarn *yarn = &project->yarns[index];
    int under = yarn->duplicate_over.index;

    if (!yarn->duplicate_over.name || !is_sewn(project, under))
        return;
    diag_add(work->diagnostics, DIAG_CHART_UNDER, yarn->duplicate_over.at,
             under == index
                 ? arena_printf(work->arena, "%s cannot be sewn over itself.", yarn->name)
                 : arena_printf(work->arena,
                                "%s is itself sewn on afterwards: nothing is knitted under %s.",
                                project->yarns[under].name, yarn->name),
             "Name the knitted yarn that lies under it.");
}

/* --- marks -------------------------------------------------------------------------- */

static void check_mark(struct work *work, const struct project *project, int index)
{
    const struct yarn *yarn = &project->yarns[index];

    if (!yarn->mark.text)
        return;
    if (strcmp(yarn->mark.text, project->no_stitch.text) == 0)
        diag_add(work->diagnostics, DIAG_MARK_FORM, yarn->mark.at,
                 arena_printf(work->arena, "\"%s\" stands for no stitch.", yarn->mark.text),
                 arena_printf(work->arena,
                              "Give %s another mark, or write no stitch = with another one in "
                              "[project].",
                              yarn->name));
    for (int i = 0; i < index; i++) {
        const struct yarn *first = &project->yarns[i];

        if (!first->mark.text || strcmp(first->mark.text, yarn->mark.text) != 0)
            continue;
        diag_add(work->diagnostics, DIAG_MARK_TWICE, yarn->mark.at,
                 arena_printf(work->arena, "\"%s\" is already the mark of %s, on line %d.",
                              yarn->mark.text, first->name, first->mark.at.line),
                 arena_printf(work->arena, "Give %s another mark.", yarn->name));
        return;
    }
}

void check_yarns(struct work *work, const struct project *project)
{
    struct uses uses = uses_of(work, project);

    for (int i = 0; i < uses.count; i++)
        check_use(work, project, &uses.use[i]);
    for (int i = 0; i < project->nyarns; i++) {
        check_under(work, project, i);
        check_mark(work, project, i);
    }
}

/* --- charts ------------------------------------------------------------------------- */

static void mark_seen(const struct grid *grid, bool seen[GRID_NO_STITCH + 1])
{
    size_t ncells = (size_t)grid->nrows * (size_t)grid->ncols;

    for (size_t i = 0; i < ncells; i++)
        seen[grid->cell[i]] = true;
}

static void check_sides(struct work *work, const struct chart *chart)
{
    if (chart->left.ncols + chart->right.ncols == 0)
        return;
    diag_add(work->diagnostics, DIAG_CHART_SIDES, chart->at,
             arena_printf(work->arena, "The side stitches of %s are left out.", chart->name),
             "Side stitches belong to flat work; in the round each repeat meets the next.");
}

/* The stitch that a band is to begin with must be one of its chart, and nothing may hang on the first. */
static void check_begin(struct work *work, const struct part *part, const struct chart *chart, bool flat)
{
    struct arena *arena = work->arena;

    if (part->begin.value > chart->repeat.ncols)
        diag_add(work->diagnostics, DIAG_VALUE_RANGE, part->begin.at,
                 arena_printf(arena, "%s is to begin with stitch %d, and its repeat has %d.", part->name,
                              part->begin.value, chart->repeat.ncols),
                 chart->repeat.ncols > 1
                     ? arena_printf(arena, "Write a stitch from 1, at the right, to %d.",
                                    chart->repeat.ncols)
                     : "Take this line out.");
    else if (flat && part->begin.value > 1 && chart->left.ncols + chart->right.ncols > 0)
        diag_add(work->diagnostics, DIAG_KEYS_CLASH, part->begin.at,
                 arena_printf(arena,
                              "The side stitches of %s go on from the first and the last stitch of its "
                              "repeat: it cannot begin with another.",
                              part->name),
                 "Take this line out; or draw repeat and side stitches anew, beginning where you want "
                 "to.");
}

/* Reported only when every chart could be read: else it is not known what is used. */
static void check_unused(struct work *work, const struct project *project,
                         bool seen[GRID_NO_STITCH + 1])
{
    struct uses uses = uses_of(work, project);

    for (int i = 0; i < uses.count; i++)
        if (uses.use[i].kind == USE_KNITTED && uses.use[i].yarn->index >= 0)
            seen[uses.use[i].yarn->index] = true;
    for (int i = 0; i < project->nyarns; i++)
        if (seen[i] && is_sewn(project, i) && project->yarns[i].duplicate_over.index >= 0)
            seen[project->yarns[i].duplicate_over.index] = true;
    for (int i = 0; i < project->nyarns; i++)
        if (!seen[i])
            diag_add(work->diagnostics, DIAG_YARN_UNUSED, project->yarns[i].at,
                     arena_printf(work->arena, "Nothing uses %s.", project->yarns[i].name),
                     "Draw its mark in a chart, name it where it is used, or take its section "
                     "out.");
}

void check_charts(struct work *work, const struct project *project,
                  const struct chart *const *charts)
{
    bool seen[GRID_NO_STITCH + 1] = {false};
    bool all_read = true;

    for (int i = 0; i < project->nparts; i++) {
        if (!charts[i]) {
            all_read = all_read && project->parts[i].kind == PART_PLAIN;
            continue;
        }
        mark_seen(&charts[i]->repeat, seen);
        mark_seen(&charts[i]->left, seen);
        mark_seen(&charts[i]->right, seen);
        if (project->worked.value == WORKED_ROUND)
            check_sides(work, charts[i]);
        check_begin(work, &project->parts[i], charts[i], project->worked.value == WORKED_FLAT);
    }
    for (int i = 0; i < project->nyarns; i++)
        if (seen[i] && !project->yarns[i].mark.text)
            diag_add(work->diagnostics, DIAG_KEY_MISSING, project->yarns[i].at,
                     arena_printf(work->arena, "Which mark stands for %s in the chart?",
                                  project->yarns[i].name),
                     "Add a line like this: mark = x.");
    if (all_read && project->nparts > 0)
        check_unused(work, project, seen);
}

/* --- weighings on the way: what can be judged before the steps are known --------------- */

static void check_twice(struct work *work, const struct given_yarn_grams *all, int index)
{
    const struct yarn_grams *one = &all->list[index];

    for (int i = 0; i < index; i++)
        if (all->list[i].yarn.index == one->yarn.index) {
            diag_add(work->diagnostics, DIAG_KEYS_CLASH, one->at,
                     arena_printf(work->arena, "%s stands twice on this line.", one->yarn.name),
                     "Weigh all its balls together, and write one weight for it.");
            return;
        }
}

static void check_one(struct work *work, const struct project *project,
                      const struct yarn_grams *one)
{
    if (!rational_is_value(project->yarns[one->yarn.index].ball.mass_g))
        diag_add(work->diagnostics, DIAG_KEY_MISSING, one->at,
                 arena_printf(work->arena,
                              "%s was weighed, and how long its yarn is for its weight is not known.",
                              one->yarn.name),
                 arena_printf(work->arena,
                              "Write weight and length from the ball band in [yarn %s]: "
                              "ball = 50 g, 210 m.",
                              one->yarn.name));
    if (rational_is_value(project->weighed_scale.g))
        check_on_scale(work, &project->weighed_scale, one->g, one->at);
}

static void check_list(struct work *work, const struct project *project,
                       const struct given_yarn_grams *all)
{
    for (int i = 0; i < all->count; i++)
        if (all->list[i].yarn.index >= 0 && rational_is_value(all->list[i].g)) { /* else it is told already */
            check_twice(work, all, i);
            check_one(work, project, &all->list[i]);
        }
}

void check_weighed(struct work *work, const struct project *project)
{
    for (int i = 0; i < WEIGHINGS_MAX; i++)
        check_list(work, project, &project->weighing[i].left);
    check_list(work, project, &project->not_yarn);
}
