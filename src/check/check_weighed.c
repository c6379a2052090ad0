/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Weighings on the way: what can be judged before the steps are known.
 */
#include "base/arena.h"
#include "base/work.h"
#include "check_parts.h"

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
        if (all->list[i].yarn.index >= 0) {
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
