/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The catches of one repeat: placed, what the spares among them bought, and where there was no
 * room to stagger.
 */
#include <stdlib.h>

#include "base/arena.h"
#include "base/diag.h"
#include "builder.h"

enum { CATCHES_BEST_MAX = 6000 }; /* of more the best placement takes its time: on demand only */

struct catch_rules plan_catch_rules(const struct builder *builder, const struct plan_band *band)
{
    const struct project *project = builder->project;

    return (struct catch_rules){
        .leave_sts = band->leave_sts,
        .stagger_cols = project->stagger.given ? project->stagger.value : 2,
        .clear_ends = project->clear_ends.given ? project->clear_ends.value : 1,
        .spare = !project->spare_catches.given || project->spare_catches.value,
        .again_above = band->upwards > 1,
    };
}

/* --- what the spares bought -------------------------------------------------------------------- */

static int64_t spares_of(const struct catch_map *map)
{
    int64_t spares = 0;

    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        spares += map->spares_of[yarn];
    return spares;
}

/* The same repeat with every float at its fewest. */
static void weigh_spares(struct builder *builder, struct plan_band *band, struct catch_rules rules)
{
    const struct catch_map *plain;
    struct best_proof proof;

    band->spares.catches = spares_of(band->catches);
    if (builder->try_at || band->spares.catches == 0)
        return;
    rules.spare = false;
    plain = catches_place(builder->work, &band->knitted, &rules);
    if (band->placed_best)
        plain = best_place(builder->work, &band->knitted, &rules, plain, &proof);
    band->spares.without_stacked = plain->stacked;
    band->spares.without_doubled = plain->doubled;
    band->spares.without_touching = plain->touching;
}

/* --- no room -------------------------------------------------------------------------------------- */

static int compare_places(const void *a, const void *b)
{
    const struct plan_tight *x = a, *y = b;

    if (x->column != y->column)
        return x->column < y->column ? -1 : 1;
    return (x->row > y->row) - (x->row < y->row);
}

/* Catches that stand on one of the row below, or share their stitch with another strand's. */
static void list_tight(struct builder *builder, struct plan_band *band)
{
    const struct catch_map *map = band->catches;
    struct arena *arena = builder->work->arena;
    bool *below, *here;
    size_t ncols = (size_t)band->knitted.ncols;
    int n = 0;

    if (map->stacked + map->doubled == 0)
        return;
    band->tight = arena_alloc(arena, (size_t)map->count, sizeof *band->tight);
    below = arena_alloc(arena, ncols, sizeof *below);
    here = arena_alloc(arena, ncols, sizeof *here);
    for (int64_t i = map->count - 1; i >= 0 && band->upwards > 1; i--)
        if (map->mark[i].row == band->rows - 1) /* the top row lies under the first */
            below[map->mark[i].column] = true;
    for (int64_t i = 0, row = 0; i < map->count; i++) {
        const struct catch_mark *mark = &map->mark[i];

        for (; row < mark->row; row++) { /* a row without a catch clears what was below */
            bool *swap = below;

            below = here;
            here = swap;
            for (size_t c = 0; c < ncols; c++)
                here[c] = false;
        }
        if (below[mark->column] || here[mark->column])
            if (n == 0 || band->tight[n - 1].row != mark->row || band->tight[n - 1].column != mark->column)
                band->tight[n++] = (struct plan_tight){mark->row, mark->column};
        here[mark->column] = true;
    }
    qsort(band->tight, (size_t)n, sizeof *band->tight, compare_places);
    band->ntight = n;
}

static void note_no_room(struct builder *builder, const struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];
    long long n = (long long)band->catches->no_room;

    if (builder->try_at || n == 0)
        return;
    diag_add(builder->work->diagnostics, DIAG_STACK_LEFT, part->at,
             arena_printf(builder->work->arena,
                          "%lld float%s in each repeat of %s %s no room to stagger: a catch stands "
                          "on its neighbour.",
                          n, n == 1 ? "" : "s", band->name, n == 1 ? "has" : "have"),
             "Catch those loosely, or put a stitch of the floating colour into the run.");
}

/* A limit that leaves everything loose, all the way across. */
static void caution_long_limit(struct builder *builder, const struct plan_band *band)
{
    int across = band->stitches + band->side_sts;
    bool round = builder->project->worked.value == WORKED_ROUND;

    if (builder->try_at || band->leave_sts < across || band->ncolours < 2)
        return;
    diag_add(builder->work->diagnostics, DIAG_LIMIT_LONG, builder->limit_at,
             arena_printf(builder->work->arena,
                          "The limit leaves %d stitches loose, and %s has %d %s: nothing in it will "
                          "ever be caught.",
                          band->leave_sts, band->name, across, round ? "in the round" : "across"),
             "Look at the unit: 1 in (2.5 cm) is common, 3/4 in (1.9 cm) in children's things.");
}

/* Behind how many of its stitches a float can be caught. */
static int places_of(int span_sts)
{
    return span_sts >= 3 ? span_sts - 2 : span_sts;
}

/* In no float over the limit is there room for two catches so far apart. */
static void note_wide_stagger(struct builder *builder, const struct plan_band *band)
{
    int stagger_cols = builder->project->stagger.given ? builder->project->stagger.value : 0;
    int longest = band->worked_longest_sts;

    if (builder->try_at || band->worked_over_limit == 0 || places_of(longest) > stagger_cols)
        return;
    diag_add(builder->work->diagnostics, DIAG_STAGGER_WIDE, builder->project->stagger.at,
             arena_printf(builder->work->arena,
                          "The longest float of %s passes behind %d stitches: there is no room in it "
                          "for catches %d columns apart.",
                          band->name, longest, stagger_cols),
             "Write a smaller stagger, or a longer limit.");
}

void plan_catches_judge(struct builder *builder, const struct plan_band *band)
{
    caution_long_limit(builder, band);
    note_wide_stagger(builder, band);
    note_no_room(builder, band);
}

/* All catches of a repeat at once, unless she or the size of the chart says row by row. */
void plan_catches_place(struct builder *builder, struct plan_band *band)
{
    const struct given_choice *asked = &builder->project->placement;
    struct catch_rules rules = plan_catch_rules(builder, band);
    const struct catch_map *quick = catches_place(builder->work, &band->knitted, &rules);

    band->catches = quick;
    band->placed_best =
        asked->given ? asked->value == PLACEMENT_BEST : quick->count <= CATCHES_BEST_MAX;
    if (band->placed_best)
        band->catches = best_place(builder->work, &band->knitted, &rules, quick, &band->proof);
    weigh_spares(builder, band, rules);
    list_tight(builder, band);
}
