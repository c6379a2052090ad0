/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <CUnit/CUnit.h>
#include <stdbool.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/catches/floats.h"
#include "small_chart.h"
#include "small_charts_worked.h"

enum { MEMORY_BYTES = 64 * 1024 * 1024, ROW_MAX = 512 };

static struct work work_begin(void)
{
    return (struct work){.arena = arena_create(MEMORY_BYTES)};
}

/* What one yarn of a chart comes to, times its repeats. */
struct counted {
    int yarn, stitches, float_stitches, longest_sts, catches_fewest;
};

static void check_counted(const struct float_tally *tally, int repeats,
                          const struct counted *expected)
{
    const struct float_tally *of = &tally[expected->yarn];

    CU_ASSERT_EQUAL(of->stitches * repeats, expected->stitches);
    CU_ASSERT_EQUAL(of->float_stitches * repeats, expected->float_stitches);
    CU_ASSERT_EQUAL(of->longest_sts, expected->longest_sts);
    CU_ASSERT_EQUAL(of->catches_fewest * repeats, expected->catches_fewest);
}

static void check_chart(const char *const *rows, int nrows, const char *marks, int leave_sts,
                        int repeats, const struct counted *expected, int nexpected)
{
    struct work work = work_begin();
    struct grid grid = small_chart(work.arena, rows, nrows, marks);
    struct float_tally tally[GRID_YARNS_MAX];

    floats_tally_ring(&work, &grid, leave_sts, 1, tally, NULL, 0);
    for (int i = 0; i < nexpected; i++)
        check_counted(tally, repeats, &expected[i]);
    arena_destroy(work.arena);
}

#define CHECK_CHART(rows, marks, leave_sts, repeats, ...)                                          \
    do {                                                                                           \
        const struct counted expected[] = {__VA_ARGS__};                                           \
        check_chart(rows, (int)(sizeof(rows) / sizeof *(rows)), marks, leave_sts, repeats,         \
                    expected, (int)(sizeof expected / sizeof *expected));                          \
    } while (0)

/* Worked by hand, common practice ("an inch or longer is caught": at 8 to the inch 7 are left). */
static void counts_the_worked_charts(void)
{
    CHECK_CHART(chart_ripple_sock, ".x", 7, 7, {0, 707, 385, 9, 7}, {1, 469, 539, 10, 21});
    CHECK_CHART(chart_seed_head, ".x", 5, 4, {0, 1268, 492, 11, 36}, {1, 492, 1188, 19, 148});
    CHECK_CHART(chart_ripples, ".x", 4, 23, {0, 1104, 552, 4, 0}, {1, 552, 552, 4, 0});
    CHECK_CHART(chart_reeds, ".x", 4, 26, {0, 2054, 650, 3, 0}, {1, 650, 1638, 7, 208});
    CHECK_CHART(chart_rain, ".x", 4, 35, {0, 840, 140, 1, 0}, {1, 140, 420, 3, 0});
    CHECK_CHART(chart_hearthstone, ".xr", 4, 10, {0, 2240, 1360, 6, 10}, {1, 1180, 2240, 16, 280},
                {2, 180, 720, 16, 120});
    CHECK_CHART(chart_boats, ".x", 5, 6, {0, 858, 486, 13, 30}, {1, 486, 666, 15, 60});
    CHECK_CHART(chart_boats, ".x", 4, 6, {0, 858, 486, 13, 42}, {1, 486, 666, 15, 90});
    CHECK_CHART(chart_boats, ".x", 4, 5, {0, 715, 405, 13, 35}, {1, 405, 555, 15, 75});
    CHECK_CHART(chart_boats, ".x", 3, 5, {0, 715, 405, 13, 55}, {1, 405, 555, 15, 85});
}

static void counts_charts_set_side_by_side(void)
{
    char text[39][57];
    const char *rows[39];

    lighthouse_rows(text, rows);
    CHECK_CHART(rows, ".x", 6, 1, {0, 1301, 883, 19, 18}, {1, 883, 1301, 25, 69});
}

/* Catches that a gauge needs, worked by hand: reeds, 26 repeats. */
static void drops_in_steps_with_the_gauge(void)
{
    static const struct {
        int leave_sts, catches;
    } steps[] = {{4, 208}, {5, 104}, {6, 78}, {7, 0}};

    for (int i = 0; i < 4; i++)
        CHECK_CHART(chart_reeds, ".x", steps[i].leave_sts, 26, {1, 650, 1638, 7, steps[i].catches});
}

/* Common practice, no source: at 5 to the inch five are left, six are caught. */
static void leaves_five_and_catches_six(void)
{
    CU_ASSERT_EQUAL(floats_fewest_catches(5, 5), 0);
    CU_ASSERT_EQUAL(floats_fewest_catches(6, 5), 1);
    CU_ASSERT_EQUAL(floats_fewest_catches(11, 5), 1);
    CU_ASSERT_EQUAL(floats_fewest_catches(12, 5), 2);
    CU_ASSERT_EQUAL(floats_fewest_catches(4, 0), 4);
    /* "An inch or longer is caught", worked by hand at 8, 5.5 and 7 to the inch. */
    CU_ASSERT_EQUAL(floats_fewest_catches(15, 7), 1);
    CU_ASSERT_EQUAL(floats_fewest_catches(16, 7), 2);
    CU_ASSERT_EQUAL(floats_fewest_catches(19, 5), 3);
    CU_ASSERT_EQUAL(floats_fewest_catches(25, 6), 3);
}

/* Fewest, tried out: every set of catches behind a float. */
static int fewest_tried(int span_sts, int leave_sts)
{
    int fewest = span_sts;

    for (unsigned set = 0; set < 1u << span_sts; set++) {
        int loose = 0, longest = 0, ncatches = 0;

        for (int p = 0; p < span_sts; p++) {
            loose = set >> p & 1 ? 0 : loose + 1;
            longest = loose > longest ? loose : longest;
            ncatches += (int)(set >> p & 1);
        }
        if (longest <= leave_sts && ncatches < fewest)
            fewest = ncatches;
    }
    return fewest;
}

static void fewest_is_the_fewest_of_all(void)
{
    for (int span_sts = 1; span_sts <= 13; span_sts++)
        for (int leave_sts = 0; leave_sts <= 14; leave_sts++)
            CU_ASSERT_EQUAL(floats_fewest_catches(span_sts, leave_sts),
                            fewest_tried(span_sts, leave_sts));
}

/* The definition word by word, for one yarn, one start and one length: stitch `from` is in
 * the yarn (or is the anchored edge), then n stitches are not, then one is (or the edge is). */
static bool is_float(const uint8_t *row, int nstitches, enum float_ends ends, int yarn, int from,
                     int n)
{
    bool begins_at_edge = from == -1, ends_at_edge = from + n + 1 == nstitches;

    if (ends == FLOATS_RING)
        begins_at_edge = ends_at_edge = false;
    if (ends != FLOATS_RING && from + n + 1 > nstitches)
        return false;
    if ((begins_at_edge || ends_at_edge) &&
        (ends == FLOATS_TURN || (begins_at_edge && ends_at_edge)))
        return false;
    if (!begins_at_edge && (from < 0 || row[from] != yarn))
        return false;
    for (int p = 1; p <= n; p++)
        if (row[(from + p) % nstitches] == yarn)
            return false;
    return ends_at_edge || row[(from + n + 1) % nstitches] == yarn;
}

/* Every triple the definition admits, against floats_of_row() and floats_tally_row(). */
static void check_row(const uint8_t *row, int nstitches, enum float_ends ends, int nyarns,
                      int leave_sts)
{
    struct float_run runs[ROW_MAX + 2 * GRID_YARNS_MAX];
    struct float_tally tally[GRID_YARNS_MAX] = {0}, tried[4] = {0};
    int64_t histogram[4 * 4] = {0}, tried_histogram[4 * 4] = {0};
    int nruns = floats_of_row(row, nstitches, ends, runs);
    int nfound = 0;

    for (int i = 0; i < nstitches; i++)
        tried[row[i]].stitches++;
    for (int from = -1; from < nstitches; from++)
        for (int yarn = 0; yarn < nyarns; yarn++)
            for (int n = 1; n < nstitches; n++) {
                if (!is_float(row, nstitches, ends, yarn, from, n))
                    continue;
                if (nfound < nruns) {
                    CU_ASSERT_EQUAL(runs[nfound].from, from);
                    CU_ASSERT_EQUAL(runs[nfound].yarn, yarn);
                    CU_ASSERT_EQUAL(runs[nfound].span_sts, n);
                }
                nfound++;
                tried[yarn].floats++;
                tried[yarn].float_stitches += n;
                tried[yarn].over_limit += n > leave_sts;
                tried[yarn].catches_fewest += fewest_tried(n, leave_sts);
                tried[yarn].longest_sts = n > tried[yarn].longest_sts ? n : tried[yarn].longest_sts;
                tried_histogram[yarn * 4 + (n < 3 ? n : 3)]++;
            }
    CU_ASSERT_EQUAL(nruns, nfound);
    floats_tally_row(row, nstitches, runs, nruns, 23, leave_sts, tally, histogram, 3);
    for (int yarn = 0; yarn < nyarns; yarn++) {
        CU_ASSERT_EQUAL(tally[yarn].stitches, tried[yarn].stitches);
        CU_ASSERT_EQUAL(tally[yarn].floats, tried[yarn].floats);
        CU_ASSERT_EQUAL(tally[yarn].float_stitches, tried[yarn].float_stitches);
        CU_ASSERT_EQUAL(tally[yarn].over_limit, tried[yarn].over_limit);
        CU_ASSERT_EQUAL(tally[yarn].catches_fewest, tried[yarn].catches_fewest);
        CU_ASSERT_EQUAL(tally[yarn].longest_sts, tried[yarn].longest_sts);
        CU_ASSERT_EQUAL(tally[yarn].longest_row, tried[yarn].longest_sts ? 23 : -1);
        for (int bin = 0; bin < 4; bin++)
            CU_ASSERT_EQUAL(histogram[yarn * 4 + bin], tried_histogram[yarn * 4 + bin]);
    }
}

static void check_all_rows(int nyarns, int widest)
{
    for (int nstitches = 1; nstitches <= widest; nstitches++) {
        int nrows = 1;

        for (int i = 0; i < nstitches; i++)
            nrows *= nyarns;
        for (int code = 0; code < nrows; code++) {
            uint8_t row[8];
            int digits = code;

            for (int i = 0; i < nstitches; i++, digits /= nyarns)
                row[i] = (uint8_t)(digits % nyarns);
            for (int leave_sts = 0; leave_sts <= 4; leave_sts++)
                for (int ends = FLOATS_RING; ends <= FLOATS_TURN; ends++)
                    check_row(row, nstitches, (enum float_ends)ends, nyarns, leave_sts);
        }
    }
}

static void agrees_with_the_definition_two_yarns(void)
{
    check_all_rows(2, 8);
}

static void agrees_with_the_definition_three_yarns(void)
{
    check_all_rows(3, 6);
}

/* Behind each stitch of a ring run the strands of all the other yarns of the row. */
static void a_ring_carries_every_other_yarn_behind_each_stitch(void)
{
    uint64_t state = 2385;

    for (int trial = 0; trial < 400; trial++) {
        int nstitches = 2 + (int)dice_below(&state, ROW_MAX - 2);
        uint32_t among = 1 + dice_below(&state, GRID_YARNS_MAX);
        uint8_t row[ROW_MAX];
        bool used[GRID_YARNS_MAX] = {false};
        struct float_run runs[ROW_MAX + 2 * GRID_YARNS_MAX];
        int nyarns = 0, nruns, float_stitches = 0;

        for (int i = 0; i < nstitches; i++) {
            row[i] = (uint8_t)dice_below(&state, among);
            used[row[i]] = true;
        }
        for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
            nyarns += used[yarn];
        nruns = floats_of_row(row, nstitches, FLOATS_RING, runs);
        for (int i = 0; i < nruns; i++)
            float_stitches += runs[i].span_sts;
        CU_ASSERT_EQUAL(float_stitches, (nyarns - 1) * nstitches);
    }
}

/* x.xx..rrrrrr..xx.x: six stitches of each, twelve behind each, worked by hand. */
static void counts_three_yarns_in_a_row(void)
{
    static const char *const rows[] = {"x.xx..rrrrrr..xx.x"};

    CHECK_CHART(rows, ".xr", 5, 1, {0, 6, 12, 6, 1}, {1, 6, 12, 10, 1}, {2, 6, 12, 12, 2});
}

/* Rounds 5 and 6 of the ripples: at the join of two repeats cream passes behind nine, over
 * the start of the round behind eight, for it goes on to the next round. By hand. */
static void tells_the_start_of_the_round_from_the_join(void)
{
    static const char *const rows[] = {"xxx.....xxxx", "xxxx...xxxxx"};
    struct work work = work_begin();
    struct grid grid = SMALL_CHART(work.arena, rows, ".x");
    struct float_tally tally[GRID_YARNS_MAX];

    floats_tally_ring(&work, &grid, 7, 1, tally, NULL, 0);
    CU_ASSERT_EQUAL(tally[0].longest_sts, 9);
    CU_ASSERT_EQUAL(tally[0].longest_row, 0);
    CU_ASSERT_EQUAL(tally[0].start_longest_sts, 8);
    CU_ASSERT_EQUAL(tally[1].start_longest_sts, 0);
    arena_destroy(work.arena);
}

/* A yarn that is not in the next round waits: no strand. Worked upwards twice, the top round
 * goes on to the first: 3 after the last white of the top, 4 before the first below. */
static void meets_the_vertical_repeat_over_the_start(void)
{
    static const char *const rows[] = {"...x.", "..r..", "x...."};
    struct work work = work_begin();
    struct grid grid = SMALL_CHART(work.arena, rows, ".xr");
    struct float_tally tally[GRID_YARNS_MAX];

    floats_tally_ring(&work, &grid, 5, 1, tally, NULL, 0);
    CU_ASSERT_EQUAL(tally[1].start_longest_sts, 0);
    CU_ASSERT_EQUAL(tally[2].start_longest_sts, 0);
    CU_ASSERT_EQUAL(tally[0].start_longest_sts, 1);
    floats_tally_ring(&work, &grid, 5, 2, tally, NULL, 0);
    CU_ASSERT_EQUAL(tally[1].start_longest_sts, 7);
    CU_ASSERT_EQUAL(tally[2].start_longest_sts, 0);
    arena_destroy(work.arena);
}

/* Empty squares are skipped: two stitches from white to white, not three or four. */
static void skips_squares_without_a_stitch(void)
{
    static const char *const rows[] = {"     ", "x. .x", "x.  ."};
    struct work work = work_begin();
    struct grid grid = SMALL_CHART(work.arena, rows, ".x");
    struct float_tally tally[GRID_YARNS_MAX];
    int column[5];

    CU_ASSERT_EQUAL(floats_row_columns(grid.cell, 5, column), 3);
    CU_ASSERT_EQUAL(column[1], 3);
    CU_ASSERT_EQUAL(column[2], 4);
    floats_tally_ring(&work, &grid, 5, 1, tally, NULL, 0);
    CU_ASSERT_EQUAL(tally[0].stitches, 4);
    CU_ASSERT_EQUAL(tally[1].stitches, 3);
    CU_ASSERT_EQUAL(tally[1].longest_sts, 2);
    CU_ASSERT_EQUAL(tally[1].float_stitches, 4);
    CU_ASSERT_EQUAL(tally[0].float_stitches, 3);
    arena_destroy(work.arena);
}

CU_TestInfo tests_floats[] = {
    {"the worked charts come out as counted", counts_the_worked_charts},
    {"charts set side by side round a mitten", counts_charts_set_side_by_side},
    {"catches drop in steps with the gauge", drops_in_steps_with_the_gauge},
    {"five are left, six are caught", leaves_five_and_catches_six},
    {"the fewest is the fewest of all sets", fewest_is_the_fewest_of_all},
    {"all rows of two yarns agree with the definition", agrees_with_the_definition_two_yarns},
    {"all rows of three yarns agree with the definition", agrees_with_the_definition_three_yarns},
    {"a ring carries every other yarn behind each stitch",
     a_ring_carries_every_other_yarn_behind_each_stitch},
    {"three yarns in a row", counts_three_yarns_in_a_row},
    {"the start of the round is not the join", tells_the_start_of_the_round_from_the_join},
    {"the vertical repeat is met over the start", meets_the_vertical_repeat_over_the_start},
    {"squares without a stitch are skipped", skips_squares_without_a_stitch},
    CU_TEST_INFO_NULL,
};
