/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Flat, with yarns turned where they are: how far a yarn crosses at an edge, from its last stitch
 * of a row to its first of the next.
 */
#include "base/arena.h"
#include "base/diag.h"
#include "plan/builder.h"
#include "rows.h"

/* Stitches outside each yarn's outermost ones, at either edge; -1: not in the row. */
struct edge_gaps {
    int right[GRID_YARNS_MAX], left[GRID_YARNS_MAX];
};

static void read_gaps(const uint8_t *yarn_of, int n, struct edge_gaps *gaps)
{
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        gaps->right[yarn] = gaps->left[yarn] = -1;
    for (int i = 0; i < n; i++)
        gaps->left[yarn_of[i]] = n - 1 - i;
    for (int i = n - 1; i >= 0; i--)
        gaps->right[yarn_of[i]] = i;
}

/* The turn after a row: at the left edge after a right-side row. */
static void join_rows(struct plan_band *band, int row, bool right_side, const struct edge_gaps *below,
                      const struct edge_gaps *above)
{
    for (int i = 0; i < band->ncolours; i++) {
        struct plan_colour *colour = &band->colours[i];
        int from = right_side ? below->left[colour->yarn] : below->right[colour->yarn];
        int to = right_side ? above->left[colour->yarn] : above->right[colour->yarn];

        if (from < 0 || to < 0 || from + to <= colour->turn_longest_sts)
            continue;
        colour->turn_longest_sts = from + to;
        colour->turn_row = row;
    }
}

static void caution_turns(struct builder *builder, const struct plan_band *band)
{
    for (int i = 0; i < band->ncolours && !builder->try_at; i++) {
        const struct plan_colour *colour = &band->colours[i];
        const char *name = builder->project->yarns[colour->yarn].name;

        if (colour->turn_longest_sts <= band->leave_sts)
            continue;
        diag_add(builder->work->diagnostics, DIAG_TURN_LONG, builder->project->edges.at,
                 arena_printf(builder->work->arena,
                              "Turning after row %d of %s, %s crosses %d stitches at the edge to its "
                              "next one; %d are left loose, and nothing catches it there.",
                              colour->turn_row + 1, band->name, name, colour->turn_longest_sts,
                              band->leave_sts),
                 "Write edges = anchor, so that every yarn goes to the edge; or catch it by hand as "
                 "you come to it.");
    }
}

void plan_turns_set(struct builder *builder, struct plan_band *band)
{
    const struct project *project = builder->project;
    size_t width = (size_t)(band->stitches + band->side_sts);
    struct arena *scratch;
    uint8_t *yarn_of;
    struct edge_gaps first = {{0}, {0}}, gaps[2];
    int times = band->upwards > 1 ? 2 : 1; /* an odd number of rows turns at the other edge next time */

    if (project->worked.value == WORKED_ROUND || project->edges.value != EDGE_TURN)
        return;
    scratch = arena_branch(builder->work->arena);
    yarn_of = arena_alloc(scratch, width, 1);
    for (int time = 0; time < times; time++)
        for (int row = 0; row < band->rows; row++) {
            int at = time * band->rows + row;
            bool right_side = (band->first_round + at) % 2 == 1;

            read_gaps(yarn_of, plan_read_whole_row(band, row, yarn_of, NULL), &gaps[at % 2]);
            if (at == 0)
                first = gaps[0];
            else
                join_rows(band, (at - 1) % band->rows, !right_side, &gaps[(at + 1) % 2], &gaps[at % 2]);
            if (at + 1 == times * band->rows && band->upwards > 2)
                join_rows(band, row, right_side, &gaps[at % 2], &first);
        }
    arena_destroy(scratch);
    for (int i = 0; i < band->ncolours; i++)
        band->colours[i].turn_longest_in = band->colours[i].turn_longest_sts / builder->piece->gauge.per_in;
    caution_turns(builder, band);
}
