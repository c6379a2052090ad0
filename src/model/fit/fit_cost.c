/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a remedy does to the floats, and which remedy comes first.
 */
#include <math.h>
#include <stdlib.h>

#include "base/arena.h"
#include "base/work.h"
#include "fit.h"
#include "model/gauge/gauge.h"

static int whole_row(const struct remake_band *band, int row, uint8_t *yarn_of)
{
    const struct grid *grids[3] = {&band->right, &band->repeat, &band->left};
    int n = 0;

    for (int g = 0; g < 3; g++)
        for (int time = 0; time < (g == 1 ? band->repeats : 1); time++)
            for (int c = 0; c < grids[g]->ncols; c++) {
                uint8_t yarn = grid_at(grids[g], row, c);

                if (yarn != GRID_NO_STITCH)
                    yarn_of[n++] = yarn;
            }
    return n;
}

static void tally_rows(struct work *work, const struct remake_band *band, enum float_ends ends,
                       int leave_sts, struct float_tally *tally)
{
    struct arena *scratch = arena_branch(work->arena);
    size_t width = (size_t)band->right.ncols + (size_t)band->left.ncols +
                   (size_t)band->repeat.ncols * (size_t)band->repeats;
    uint8_t *yarn_of = arena_alloc(scratch, width, 1);
    struct float_run *runs = arena_alloc(scratch, width + 2 * GRID_YARNS_MAX, sizeof *runs);

    for (int row = 0; row < band->repeat.nrows; row++) {
        int n = whole_row(band, row, yarn_of);
        int nruns = floats_of_row(yarn_of, n, ends, runs);

        floats_tally_row(yarn_of, n, runs, nruns, row, leave_sts, tally, NULL, 0);
    }
    arena_destroy(scratch);
}

struct fit_floats fit_count_floats(struct work *work, const struct fit_chart *chart,
                                   const struct remake_band *band, struct rational per_in)
{
    struct fit_floats floats = {0};
    struct float_tally *tally = arena_alloc(work->arena, GRID_YARNS_MAX, sizeof *tally);
    int64_t leave_sts = chart->catch_at ? gauge_catch_at_sts(chart->limit_in, per_in)
                                        : gauge_leave_up_to_sts(chart->limit_in, per_in);
    int64_t times = chart->upwards;

    if ((double)band->repeat.ncols * band->repeat.nrows * band->repeats > FIT_CELLS_MAX ||
        leave_sts < 1 || leave_sts > INT32_MAX)
        return floats;
    if (chart->ends == FLOATS_RING) {
        floats_tally_ring(work, &band->repeat, (int)leave_sts, chart->upwards, tally, NULL, 0);
        times *= band->repeats;
    } else {
        tally_rows(work, band, chart->ends, (int)leave_sts, tally);
    }
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++) {
        if (tally[yarn].longest_sts > floats.longest_sts)
            floats.longest_sts = tally[yarn].longest_sts;
        floats.over_limit += tally[yarn].over_limit * times;
        floats.catches_fewest += tally[yarn].catches_fewest * times;
    }
    floats.longest_in = floats.longest_sts / rational_double(per_in);
    floats.leave_sts = (int)leave_sts;
    floats.catches_longest = floats_fewest_catches(floats.longest_sts, (int)leave_sts);
    floats.known = true;
    return floats;
}

/* --- which comes first ------------------------------------------------------------------------ */

/* 0: chart and needle as they are; 1: the chart changed by columns; 2: a new swatch; 3: a drawing. */
static int effort_of(enum fit_kind kind)
{
    switch (kind) {
    case FIT_ANOTHER_COUNT:
    case FIT_SHAPE:
        return 0;
    case FIT_PLAIN_COLUMNS:
    case FIT_TRIM_OR_PAD:
    case FIT_PART_REPEATS:
        return 1;
    case FIT_ANOTHER_GAUGE:
        return 2;
    case FIT_REDRAW:
    case FIT_KIND_COUNT:
        break;
    }
    return 3;
}

/* Stitches off the target; another needle gives the size itself. */
static struct rational off_of(const struct fit_question *question, const struct fit_remedy *remedy)
{
    if (remedy->kind == FIT_ANOTHER_GAUGE)
        return rational_whole(0);
    return rational_distance(rational_whole(remedy->stitches), question->target_sts);
}

static int order(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

/* A float that takes more catches than the longest with whole repeats. */
static bool is_long(const struct fit_floats *now, const struct fit_remedy *remedy)
{
    return now->known && (remedy->floats.known || remedy->kind == FIT_REDRAW) &&
           remedy->floats.catches_longest > now->catches_longest;
}

/* It does not pass what it must, and pulls less far even than now. */
static bool is_worse(const struct fit_case *facts, const struct fit_remedy *remedy)
{
    return remedy->must && !remedy->passes &&
           remedy->pulls_to_in < facts->pulls_to_in * (1.0 - 1e-9);
}

static int compare(const struct fit_case *facts, const struct fit_remedy *a,
                   const struct fit_remedy *b)
{
    const struct fit_question *question = facts->question;
    int by_size = rational_compare(off_of(question, a), off_of(question, b));
    const int orders[] = {
        order(a->must && !a->passes, b->must && !b->passes),
        order(is_worse(facts, a), is_worse(facts, b)),
        order(a->far, b->far),
        order(is_long(&facts->floats, a), is_long(&facts->floats, b)),
        order(!a->meets, !b->meets),
        order(a->ntorn_rows > 0, b->ntorn_rows > 0),
        a->meets ? 0 : by_size,
        order(effort_of(a->kind), effort_of(b->kind)),
        order(a->floats.catches_fewest, b->floats.catches_fewest),
        /* Of one kind not: "remedy = shape" must mean the same before they are known. */
        a->kind == b->kind ? 0 : order(a->extra_rounds, b->extra_rounds),
        by_size,
        order((int64_t)a->kind, (int64_t)b->kind),
    };

    for (size_t i = 0; i < sizeof orders / sizeof orders[0]; i++)
        if (orders[i] != 0)
            return orders[i];
    return 0;
}

/* By insertion, so that equal ones keep their order. */
void fit_rank(const struct fit_case *facts, struct fit_remedy *remedies, int count)
{
    for (int i = 1; i < count; i++) {
        struct fit_remedy moved = remedies[i];
        int to = i;

        for (; to > 0 && compare(facts, &moved, &remedies[to - 1]) < 0; to--)
            remedies[to] = remedies[to - 1];
        remedies[to] = moved;
    }
}
