/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each yarn its own stitch, where the measurements name them and differ.
 */
#include "loop_parts.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "base/arena.h"

/* Each yarn its own stitch, where the measurements name them and differ by more than chance:
 * the drop of chi-square by a group more, in errors as wide as what is still left over. */
struct loop_fit *yarns_fit(const struct measured *all, int *group_of)
{
    const struct plan_loop *loop = &all->builder->piece->loop;
    struct arena *arena = all->builder->work->arena;
    struct loop_observation *list = arena_alloc(arena, (size_t)all->count, sizeof *list);
    int *yarn = arena_alloc(arena, (size_t)all->count, sizeof *yarn);
    struct loop_fit *fit = arena_alloc(arena, 1, sizeof *fit);
    int ngroups, more;

    for (int i = 0; i < all->count; i++) {
        list[i] = all->list[i];
        yarn[i] = all->from[i].yarn;
    }
    more = loop_fit_split(list, yarn, all->count, GROUP_YARNS, group_of,
                          all->builder->project->nyarns, &ngroups);
    if (more < 1 || loop->fit->freedom < more ||
        loop_fit_solve(list, all->count, ngroups, &loop->errors, fit) < 0 ||
        fit->slack_told != loop->fit->slack_told ||
        gsl_cdf_chisq_Q((loop->fit->chi_square - fit->chi_square) / loop_fit_excess(fit), more) >
            builder_threshold(all->builder, "loop_by_yarn_chance"))
        return NULL;
    return fit;
}

/* How far to trust a stitch, where each yarn has its own: the one known worst. */
static double worst_error(const struct loop_fit *by_yarn, const int *group_of, int nyarns)
{
    double worst = 0.0;

    for (int i = 0; i < nyarns; i++)
        if (group_of[i] >= 0)
            worst = fmax(worst, by_yarn->covariance[group_of[i]][group_of[i]]);
    return likely_nine_in_ten(sqrt(worst));
}

void yarns_set(struct builder *builder, const struct loop_fit *by_yarn, const int *group_of)
{
    struct plan_loop *loop = &builder->piece->loop;
    int nyarns = builder->project->nyarns;
    struct plan_yarn_loop *yarn = arena_alloc(builder->work->arena, (size_t)nyarns, sizeof *yarn);

    for (int i = 0; i < nyarns; i++) {
        yarn[i] = (struct plan_yarn_loop){loop->loop_mm, loop->plain_loop_mm, loop->fit, 0};
        if (!by_yarn || group_of[i] < 0)
            continue;
        yarn[i].fit = by_yarn;
        yarn[i].group = group_of[i];
        yarn[i].loop_mm = by_yarn->loop_mm[group_of[i]];
        yarn[i].plain_loop_mm *= yarn[i].loop_mm / loop->loop_mm;
        loop->by_yarn = true;
    }
    loop->yarn = yarn;
    if (loop->by_yarn)
        loop->error_part = worst_error(by_yarn, group_of, nyarns);
}
