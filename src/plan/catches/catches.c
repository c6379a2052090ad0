/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The catches of a band: placed, what the spares among them bought, and where there was no room to
 * stagger.
 */
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/diag.h"
#include "plan/builder.h"
#include "rows.h"

enum { CATCHES_BEST_MAX = 6000 }; /* of more the best placement takes its time: on demand only */

struct catch_rules plan_catch_rules(const struct builder *builder, const struct plan_band *band)
{
    const struct project *project = builder->project;

    return (struct catch_rules){
        .leave_sts = band->leave_sts,
        .stagger_cols = project->stagger.value,
        .clear_ends = project->clear_ends.value,
        .spare = project->spare_catches.value,
        .again_above = band->upwards > 1,
    };
}

/* --- what the spares bought -------------------------------------------------------------------- */

/* How the same band would stand with every float at its fewest: one repeat, or whole rows where
 * they have two ends. */
static void weigh_spares(struct builder *builder, struct plan_band *band)
{
    struct catch_rules rules = plan_catch_rules(builder, band);
    const struct catch_map *plain, *placed;
    struct best_proof proof;

    for (int i = 0; i < band->ncolours; i++)
        band->spares.catches += band->colours[i].once_spares;
    if (builder->own || band->spares.catches == 0)
        return;
    rules.spare = false;
    plain = catches_place(builder->work, &band->knitted, &rules);
    if (band->placed_best)
        plain = best_place(builder->work, &band->knitted, &rules, plain, &proof);
    if (band->outer) {
        struct catch_open piece = plan_open_piece(builder, band);

        plain = catches_place_open(builder->work, &piece, plain, &rules);
    }
    band->spares.without_stacked = plain->stacked;
    band->spares.without_doubled = plain->doubled;
    band->spares.without_touching = plain->touching;
    placed = band->outer ? band->outer : band->catches;
    band->spares.kept = plain->stacked + plain->doubled - placed->stacked - placed->doubled;
}

/* --- no room -------------------------------------------------------------------------------------- */

static int by_column(const void *a, const void *b)
{
    const struct plan_tight *x = a, *y = b;

    if (x->column != y->column)
        return x->column < y->column ? -1 : 1;
    if (x->row != y->row)
        return x->row < y->row ? -1 : 1;
    return (int)x->strand - (int)y->strand;
}

/* Catches that stand on one of the row below, or share their stitch with another strand's. */
static void list_tight(struct builder *builder, struct plan_band *band)
{
    const struct catch_map *map = band->outer ? band->outer : band->catches;
    struct arena *scratch = arena_branch(builder->work->arena);
    const struct catch_mark *here, *below = NULL;
    int nhere, nbelow = 0;

    if (map->stacked + map->doubled > 0)
        band->tight = arena_alloc(builder->work->arena, (size_t)band->catches_once, sizeof *band->tight);
    if (band->upwards > 1)
        below = plan_row_catches(scratch, band, band->rows - 1, &nbelow);
    for (int row = 0; band->tight && row < band->rows; row++, below = here, nbelow = nhere) {
        here = plan_row_catches(scratch, band, row, &nhere);
        for (int i = 0, under = 0; i < nhere; i++) {
            const struct catch_mark *at = &here[i];

            while (under < nbelow && below[under].column < at->column)
                under++;
            if ((i > 0 && at[-1].column == at->column) ||
                (under < nbelow && below[under].column == at->column))
                band->tight[band->ntight++] = (struct plan_tight){row, at->column, at->strand};
        }
    }
    arena_destroy(scratch);
    if (band->tight)
        qsort(band->tight, (size_t)band->ntight, sizeof *band->tight, by_column);
}

static void note_no_room(struct builder *builder, const struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];
    int n = band->ntight;

    if (builder->try_at || n == 0)
        return;
    diag_add(builder->work->diagnostics, DIAG_STACK_LEFT, part->at,
             arena_printf(builder->work->arena,
                          "%d catch%s %s of %s %s on or with another: there was no room to stagger.", n,
                          n == 1 ? "" : "es", band->outer ? "in the rows" : "in each repeat",
                          band->name, n == 1 ? "stands" : "stand"),
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
             arena_printf(builder->work->arena, "Look at the unit: %s is common, %s in children's things.",
                          builder_length(builder, builder_threshold(builder, "float_limit_in")),
                          builder_length(builder, builder_threshold(builder, "float_limit_child_in"))));
}

/* Behind how many of its stitches a float can be caught. */
static int places_of(int span_sts)
{
    return span_sts >= 3 ? span_sts - 2 : span_sts;
}

/* In no float over the limit is there room for two catches so far apart. */
static void note_wide_stagger(struct builder *builder, const struct plan_band *band)
{
    int stagger_cols = builder->project->stagger.said ? builder->project->stagger.value : 0;
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

void plan_catches_judge(struct builder *builder, struct plan_band *band)
{
    if (band->outer && band->repeats == 1) /* its edges are open: what is proven of a ring says nothing */
        band->proof = (struct best_proof){.catches = band->worked_fewest,
                                          .placed_near = band->proof.placed_near,
                                          .placed_squares = band->proof.placed_squares};
    weigh_spares(builder, band);
    list_tight(builder, band);
    caution_long_limit(builder, band);
    note_wide_stagger(builder, band);
    note_no_room(builder, band);
}

/* The same chart by the same rules in her own piece; NULL: there is none. */
static const struct plan_band *find_placed(const struct builder *builder, const struct plan_band *band)
{
    const struct builder of_own = {.project = builder->own_project};
    const struct given_choice *asked = &builder->project->placement, *before;
    ptrdiff_t index = band - builder->piece->bands;
    const struct plan_band *own;
    struct catch_rules rules, same;

    if (!builder->own || index >= builder->own->nbands)
        return NULL;
    own = &builder->own->bands[index];
    if (own->outer && own->repeats == 1 && band->repeats > 1)
        return NULL; /* what was proven of its ring is gone */
    before = &builder->own_project->placement;
    rules = plan_catch_rules(builder, band);
    same = plan_catch_rules(&of_own, own);
    return own->knitted.nrows == band->knitted.nrows && own->knitted.ncols == band->knitted.ncols &&
                   memcmp(own->knitted.cell, band->knitted.cell,
                          (size_t)band->knitted.nrows * (size_t)band->knitted.ncols) == 0 &&
                   rules.leave_sts == same.leave_sts && rules.stagger_cols == same.stagger_cols &&
                   rules.clear_ends == same.clear_ends && rules.spare == same.spare &&
                   rules.again_above == same.again_above && asked->value == before->value
               ? own
               : NULL;
}

/* All catches of a repeat at once, unless she or the size of the chart says row by row. */
void plan_catches_place(struct builder *builder, struct plan_band *band)
{
    const struct given_choice *asked = &builder->project->placement;
    const struct plan_band *own = find_placed(builder, band);
    struct catch_rules rules = plan_catch_rules(builder, band);
    const struct catch_map *quick;

    if (own) {
        band->catches = own->catches;
        band->placed_best = own->placed_best;
        band->proof = own->proof;
        return;
    }
    quick = catches_place(builder->work, &band->knitted, &rules);
    band->catches = quick;
    band->placed_best = asked->value == PLACEMENT_BEST ||
                        (asked->value == PLACEMENT_BY_SIZE && quick->count <= CATCHES_BEST_MAX);
    if (band->placed_best)
        band->catches = best_place(builder->work, &band->knitted, &rules, quick, &band->proof);
}
