/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Fewest stitches to change: every single change and every pair on small charts, catches counted afresh
 * stitch by stitch; and by hand.
 */
#include <CUnit/CUnit.h>

#include "run.h"
#include "base/tables.h"
#include "fixture_work.h"
#include "model/motif/recolour.h"
#include "small_chart.h"

extern CU_TestInfo tests_recolour[];

enum { NCOLS_MAX = 12, WIDE_MAX = 36, NROWS_MAX = 3, CELLS_MAX = WIDE_MAX * NROWS_MAX, TRIED_MAX = 400 };

struct small {
    int nrows, ncols, repeats, leave, yarns;
    bool ring, mirrored, slipped; /* slipped: the mirror is missed by a stitch perhaps */
    int axis; /* column c and axis - c */
    uint8_t cell[CELLS_MAX];
};

static uint8_t at(const struct small *chart, int row, int i)
{
    return chart->cell[row * chart->ncols + i % chart->ncols];
}

/* Second definition of a float: from behind stitch i the way to both sides; -1 where there is none. */
static int float_over(const struct small *chart, int row, int i, uint8_t yarn)
{
    int width = chart->ring ? chart->ncols : chart->ncols * chart->repeats;
    int right = 0, left = 0;
    bool met = false;

    if (at(chart, row, i) == yarn)
        return -1;
    for (int k = 0; k < width; k++)
        met = met || at(chart, row, k) == yarn;
    if (!met)
        return -1;
    if (chart->ring) {
        while (at(chart, row, i + left + 1) != yarn)
            left++;
        while (at(chart, row, i + width * 2 - right - 1) != yarn)
            right++;
        return left + right + 1;
    }
    while (i + left + 1 < width && at(chart, row, i + left + 1) != yarn)
        left++;
    while (i - right - 1 >= 0 && at(chart, row, i - right - 1) != yarn)
        right++;
    return left + right + 1;
}

/* Each float is counted at its rightmost stitch. */
static int catches(const struct small *chart)
{
    int sum = 0, width = chart->ring ? chart->ncols : chart->ncols * chart->repeats;

    for (int row = 0; row < chart->nrows; row++)
        for (int i = 0; i < width; i++)
            for (uint8_t yarn = 0; yarn < chart->yarns; yarn++) {
                bool first = chart->ring ? at(chart, row, i + width - 1) == yarn
                                         : i == 0 || at(chart, row, i - 1) == yarn;
                int n = first ? float_over(chart, row, i, yarn) : -1;

                sum += n > chart->leave ? n / (chart->leave + 1) : 0;
            }
    return sum;
}

static int partner(const struct small *chart, int column)
{
    return chart->mirrored ? (chart->axis - column + 2 * chart->ncols) % chart->ncols : column;
}

struct tried {
    int row, column;
    uint8_t yarn;
};

static int list(const struct small *chart, struct tried *tried)
{
    int n = 0, times = chart->ring ? 1 : chart->repeats;

    for (int row = 0; row < chart->nrows; row++)
        for (int column = 0; column < chart->ncols; column++)
            for (uint8_t yarn = 0; yarn < chart->yarns; yarn++) {
                bool over = false;

                for (int copy = 0; copy < times; copy++)
                    over = over || float_over(chart, row, copy * chart->ncols + column, yarn) > chart->leave;
                if (over)
                    tried[n++] = (struct tried){row, column, yarn};
            }
    return n;
}

static void change(struct small *chart, const struct tried *tried)
{
    chart->cell[tried->row * chart->ncols + tried->column] = tried->yarn;
    chart->cell[tried->row * chart->ncols + partner(chart, tried->column)] = tried->yarn;
}

/* Does a row miss a yarn it had? */
static bool loses(const struct small *before, const struct small *after)
{
    for (int row = 0; row < before->nrows; row++) {
        unsigned had = 0, has = 0;

        for (int c = 0; c < before->ncols; c++) {
            had |= 1u << before->cell[row * before->ncols + c];
            has |= 1u << after->cell[row * before->ncols + c];
        }
        if (had != has)
            return true;
    }
    return false;
}

static bool touch(const struct small *chart, const struct tried *a, const struct tried *b)
{
    return a->row == b->row &&
           (a->column == b->column || partner(chart, a->column) == b->column);
}

static void best_by_trying(const struct small *chart, int *one, int *two)
{
    struct tried tried[TRIED_MAX];
    int n = list(chart, tried), now = catches(chart);

    *one = *two = 0;
    for (int i = 0; i < n; i++) {
        struct small changed = *chart;
        int saved;

        change(&changed, &tried[i]);
        saved = now - catches(&changed);
        *one = saved > *one && !loses(chart, &changed) ? saved : *one;
        for (int j = i + 1; j < n; j++) {
            struct small both = changed;

            if (touch(chart, &tried[i], &tried[j]))
                continue;
            change(&both, &tried[j]);
            saved = now - catches(&both);
            *two = saved > *two && !loses(chart, &both) ? saved : *two;
        }
    }
}

static void search(struct work *work, const struct small *chart, struct recolour_found *found)
{
    struct grid grid = {chart->nrows, chart->ncols, chart->cell};
    struct symmetry mirror = {.kind = SYMMETRY_ACROSS, .column_is_mirrored = true, .column = chart->axis, .times = 2,
                              .breaks = chart->slipped};
    struct recolour_band band = {
        .drawn = &grid,
        .knitted = &grid,
        .repeats = chart->ring ? 1 : chart->repeats,
        .ends = chart->ring ? FLOATS_RING : FLOATS_ANCHOR,
        .leave_sts = chart->leave,
        .symmetries = &mirror,
        .nsymmetries = chart->mirrored,
        .field = {&grid, true, false, 0},
    };

    recolour_search(work, &band, found);
}

static void throw_chart(uint64_t *state, int ncols_max, struct small *chart)
{
    *chart = (struct small){.nrows = 1 + (int)dice_below(state, NROWS_MAX),
                            .ncols = 5 + (int)dice_below(state, (uint32_t)ncols_max - 4),
                            .repeats = 1 + (int)dice_below(state, 2),
                            .leave = 1 + (int)dice_below(state, 2),
                            .yarns = 2 + (int)dice_below(state, 2),
                            .ring = dice_below(state, 3) > 0,
                            .mirrored = dice_below(state, 2) > 0};
    chart->axis = (int)dice_below(state, (uint32_t)chart->ncols);
    for (int i = 0; i < chart->nrows * chart->ncols; i++) {
        bool few = dice_below(state, 4) > 0; /* long floats in most */

        chart->cell[i] = few ? 0 : (uint8_t)dice_below(state, (uint32_t)chart->yarns);
    }
    for (int row = 0; row < chart->nrows && chart->mirrored; row++)
        for (int c = 0; c < chart->ncols; c++)
            chart->cell[row * chart->ncols + partner(chart, c)] = chart->cell[row * chart->ncols + c];
    if (chart->mirrored && dice_below(state, 2) > 0) {
        chart->slipped = true;
        chart->cell[dice_below(state, (uint32_t)(chart->nrows * chart->ncols))] =
            (uint8_t)dice_below(state, (uint32_t)chart->yarns);
    }
}

/* Stitches whose partner is in another yarn. */
static int off_mirror(const struct small *chart)
{
    int off = 0;

    for (int i = 0; i < chart->nrows * chart->ncols && chart->mirrored; i++)
        off += chart->cell[i] !=
               chart->cell[i / chart->ncols * chart->ncols + partner(chart, i % chart->ncols)];
    return off;
}

struct gains {
    int one, pairs, joint;
};

static struct gains compare_trials(int trials, int ncols_max, uint64_t state)
{
    struct work work = fixture_work();
    struct gains gains = {0, 0, 0};

    for (int trial = 0; trial < trials; trial++) {
        struct small chart;
        struct recolour_found *found = arena_alloc(work.arena, 1, sizeof *found);
        int one, two;

        throw_chart(&state, ncols_max, &chart);
        best_by_trying(&chart, &one, &two);
        search(&work, &chart, found);
        CU_ASSERT_TRUE(found->searched);
        CU_ASSERT_TRUE(found->pair_certain);
        CU_ASSERT_EQUAL(found->nones > 0 ? found->one[0].saved : 0, one);
        CU_ASSERT_EQUAL(found->has_pair ? found->pair.saved : one, two > one ? two : one);
        gains.one += one > 0;
        gains.pairs += found->has_pair;
        gains.joint += found->has_pair && found->pair_of[0] < 0;
        for (int k = 1; k < found->nones; k++)
            CU_ASSERT_TRUE(found->one[k].saved <= found->one[k - 1].saved && found->one[k].saved > 0);
    }
    fixture_end(&work);
    return gains;
}

static void against_every_change(void)
{
    struct gains gains = compare_trials(1500, NCOLS_MAX, 2385);

    CU_ASSERT_TRUE(gains.one > 500 && gains.pairs > 300 && gains.joint > 20);
}

/* Changes that do not touch one another's floats, as in a small chart most do. */
static void against_every_change_of_wide_charts(void)
{
    struct gains gains = compare_trials(60, WIDE_MAX, 77);

    CU_ASSERT_TRUE(gains.one > 20 && gains.pairs > 20);
}

/* Every change that is named saves what it says, and keeps the mirror, or what there is of it. */
static void as_it_says(void)
{
    struct work work = fixture_work();
    uint64_t state = 99;
    int named = 0;

    for (int trial = 0; trial < 600; trial++) {
        struct small chart;
        struct recolour_found *found = arena_alloc(work.arena, 1, sizeof *found);

        throw_chart(&state, NCOLS_MAX, &chart);
        search(&work, &chart, found);
        for (int k = 0; k <= found->nones; k++) {
            const struct recolour *said = k < found->nones ? &found->one[k] : &found->pair;
            struct small changed = chart;

            if (k == found->nones && !found->has_pair)
                continue;
            for (int i = 0; i < said->ncells; i++) {
                uint8_t *cell = &changed.cell[said->cell[i].row * chart.ncols + said->cell[i].column];

                CU_ASSERT_EQUAL(*cell, said->cell[i].was);
                *cell = said->cell[i].yarn;
            }
            CU_ASSERT_EQUAL(catches(&chart) - catches(&changed), said->saved);
            CU_ASSERT_TRUE(off_mirror(&changed) <= off_mirror(&chart));
            CU_ASSERT_TRUE(chart.slipped || off_mirror(&changed) == 0);
            named++;
        }
    }
    CU_ASSERT_TRUE(named > 500);
    fixture_end(&work);
}

/* By hand, longest run left loose 7: a float of 9 loses its catch behind any of its stitches 2 to 8
 * (pieces 1 + 7 to 7 + 1), the middle one best. */
static void by_hand(void)
{
    struct work work = fixture_work();
    struct recolour_found found;
    struct small chart = {.nrows = 1, .ncols = 10, .repeats = 1, .leave = 7, .yarns = 2, .ring = true};

    chart.cell[0] = 1;
    search(&work, &chart, &found);
    CU_ASSERT_EQUAL(found.nones, 1);
    CU_ASSERT_EQUAL(found.one[0].saved, 1);
    CU_ASSERT_EQUAL(found.one[0].cell[0].column, 5);
    CU_ASSERT_EQUAL(found.one[0].behind_sts, 1); /* the ground passes behind that one stitch */
    CU_ASSERT_FALSE(found.has_pair);
    fixture_end(&work);
}

/* A stitch sewn on afterwards is not one to change: what lies under it is not seen. */
static void not_under_a_sewn_one(void)
{
    struct work work = fixture_work();
    static const uint8_t knitted_cell[10] = {1};
    uint8_t drawn_cell[10] = {1};
    struct grid knitted = {1, 10, knitted_cell}, drawn = {1, 10, drawn_cell};
    struct recolour_band band = {.drawn = &drawn, .knitted = &knitted, .repeats = 1, .ends = FLOATS_RING,
                                 .leave_sts = 7, .field = {&drawn, true, false, 0}};
    struct recolour_found found;

    drawn_cell[5] = 2;
    recolour_search(&work, &band, &found);
    CU_ASSERT_EQUAL(found.nones, 1);
    CU_ASSERT_EQUAL(found.one[0].cell[0].column, 4);
    fixture_end(&work);
}

/* --- whole plans ------------------------------------------------------------------------------ */

/* Fewest catches of a piece whose chart has the change in it. */
static int64_t planned(struct work *work, const struct project *project, const struct chart *const *charts,
                       int part, const struct plan_recolour *change)
{
    const struct chart **changed = arena_alloc(work->arena, (size_t)project->nparts, sizeof *changed);
    struct chart *mine = arena_alloc(work->arena, 1, sizeof *mine);
    size_t cells = (size_t)charts[part]->repeat.nrows * (size_t)charts[part]->repeat.ncols;
    uint8_t *cell = arena_alloc(work->arena, cells, 1);
    const struct plan *plan;

    for (int i = 0; i < project->nparts; i++)
        changed[i] = charts[i];
    *mine = *charts[part];
    memcpy(cell, mine->repeat.cell, cells);
    for (int i = 0; i < change->ncells; i++)
        cell[change->cells[i].row * mine->repeat.ncols + change->cells[i].column] = change->cells[i].yarn;
    mine->repeat.cell = cell;
    changed[part] = mine;
    plan = plan_build(work, project, changed);
    return plan ? plan->piece.catches_fewest : -1;
}

/* The examples, in the round, flat with side stitches, and across a steek: the piece planned again with
 * each change in its chart takes as many catches fewer as was said. */
static void planned_again(void)
{
    static const char *const examples[] = {"examples/barley-socks/barley-socks.ini",
                                           "examples/moth-cushion/moth-cushion.ini",
                                           "examples/pinewood-yoke/pinewood-yoke.ini",
                                           "examples/skep-mittens/skep-mittens.ini",
                                           "examples/tile-blanket/tile-blanket.ini",
                                           "examples/toadstool-hat/toadstool-hat.ini"};
    int compared = 0;

    for (size_t e = 0; e < sizeof examples / sizeof *examples; e++) {
        struct work work = fixture_work();
        const struct project *project;
        const struct chart **charts;
        const struct plan *plan;

        work.tables = tables_load(&work);
        project = project_read(&work, examples[e]);
        charts = arena_alloc(work.arena, (size_t)project->nparts, sizeof *charts);
        for (int i = 0; i < project->nparts; i++)
            if (project->parts[i].kind == PART_BAND)
                charts[i] = chart_read_band(&work, project, &project->parts[i]);
        plan = plan_build(&work, project, charts);
        CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
        for (int b = 0; b < plan->piece.nbands; b++) {
            const struct plan_band *band = &plan->piece.bands[b];
            const struct plan_recolours *found = &band->recolours;

            for (int k = 0; k <= found->nones; k++) {
                const struct plan_recolour *said = k < found->nones ? &found->one[k] : &found->pair;

                if (k == found->nones && !found->has_pair)
                    continue;
                CU_ASSERT_EQUAL(plan->piece.catches_fewest -
                                    planned(&work, project, charts, band->part, said),
                                said->saved_piece);
                compared++;
            }
        }
        fixture_end(&work);
    }
    CU_ASSERT_TRUE(compared > 20);
}

/* Four rounds higher, read the other way, the twig is itself; so it is with each change that is offered. */
static void glides_are_kept(void)
{
    enum { WIDE = 10, TALL = 8, UP = 4 };
    struct work work = fixture_work();
    const struct plan *plan = NULL;
    const struct plan_band *band;

    work.tables = tables_load(&work);
    CU_ASSERT_EQUAL_FATAL(run_plan(&work, "tests/projects/glide.ini", &plan), RUN_DONE);
    band = &plan->piece.bands[0];
    CU_ASSERT_EQUAL_FATAL(band->drawn.ncols, WIDE);
    CU_ASSERT_EQUAL_FATAL(band->drawn.nrows, TALL);
    CU_ASSERT_TRUE(band->recolours.nones >= 2);
    for (int k = 0; k < band->recolours.nones; k++) {
        const struct plan_recolour *change = &band->recolours.one[k];
        uint8_t cell[TALL * WIDE];
        int broken = 0;

        memcpy(cell, band->drawn.cell, sizeof cell);
        for (int i = 0; i < change->ncells; i++)
            cell[change->cells[i].row * WIDE + change->cells[i].column] = change->cells[i].yarn;
        CU_ASSERT_NOT_EQUAL(memcmp(cell, band->drawn.cell, sizeof cell), 0);
        for (int row = 0; row < TALL; row++)
            for (int c = 0; c < WIDE; c++)
                broken += cell[row * WIDE + c] != cell[(row + UP) % TALL * WIDE + WIDE - 1 - c];
        CU_ASSERT_EQUAL(broken, 0);
    }
    fixture_end(&work);
}

/* By hand: one stitch and an empty square in a ring of 14; the float of 12 takes two catches at 5 left loose, and the
 * light stitch in its middle saves one. */
static void an_empty_square(void)
{
    static const char *const rows[] = {"x...... ......"};
    struct work work = fixture_work();
    struct grid grid = SMALL_CHART(work.arena, rows, ".x");
    struct recolour_band band = {.drawn = &grid, .knitted = &grid, .repeats = 1, .ends = FLOATS_RING,
                                 .leave_sts = 5, .field = {&grid, true, false, 0}};
    struct recolour_found *found = arena_alloc(work.arena, 1, sizeof *found);

    recolour_search(&work, &band, found);
    CU_ASSERT_EQUAL_FATAL(found->nones, 1);
    CU_ASSERT_EQUAL(found->one[0].saved, 1);
    fixture_end(&work);
}

CU_TestInfo tests_recolour[] = {{"against every change and pair", against_every_change},
                                {"wide charts against every change and pair", against_every_change_of_wide_charts},
                                {"an empty square", an_empty_square},
                                {"as it says", as_it_says},
                                {"by hand", by_hand},
                                {"planned again", planned_again},
                                {"glides are kept", glides_are_kept},
                                {"not under a stitch sewn on", not_under_a_sewn_one},
                                CU_TEST_INFO_NULL};
