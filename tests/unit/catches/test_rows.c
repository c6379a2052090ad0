/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A row as it is worked: against rows worked by hand, and against a second reading that lays
 * every stitch of the row out one by one.
 */
#include <CUnit/Basic.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "fixture_plan.h"
#include "plan/catches/rows.h"
#include "plan/catches/strands.h"

static struct plan_row read_row(struct work *work, const struct plan *plan, int row, int time)
{
    struct plan_row read;

    plan_row_read(work, plan, plan->piece.bands, row - 1, time, &read);
    return read;
}

static void check_run(const struct row_run *run, int stitches, int yarn)
{
    CU_ASSERT_EQUAL(run->stitches, stitches);
    CU_ASSERT_EQUAL(run->yarn, yarn);
}

static void check_catch(const struct row_run *run, int strand, int behind)
{
    CU_ASSERT_EQUAL_FATAL(run->ncatches, 1);
    CU_ASSERT_EQUAL(run->catches[0].strand, strand);
    CU_ASSERT_EQUAL(run->catches[0].behind, behind);
}

/* Worked by hand: "*3 slate, 9 cream catching slate behind the 5th; from * 7 times (84)". */
static void ripple_round_8(void)
{
    struct work work = fixture_plan_work();
    struct plan_row row = read_row(&work, fixture_ripple(&work), 8, 0);

    CU_ASSERT_EQUAL(row.stitches, 84);
    CU_ASSERT_EQUAL(row.times, 7);
    CU_ASSERT_EQUAL(row.nbefore + row.nafter, 0);
    CU_ASSERT_EQUAL_FATAL(row.nunit, 2);
    check_run(&row.unit[0], 3, FIXTURE_SLATE);
    CU_ASSERT_EQUAL(row.unit[0].ncatches, 0);
    check_run(&row.unit[1], 9, FIXTURE_CREAM);
    check_catch(&row.unit[1], FIXTURE_SLATE, 5);
    CU_ASSERT_EQUAL(row.join_stitches, 0);
    arena_destroy(work.arena);
}

/* Worked by hand: "*1 cream, 2 slate, 9 cream catching slate behind the 7th; from * 7 times
 * (84)"; 9 + 1 cream at the join. */
static void ripple_round_9(void)
{
    struct work work = fixture_plan_work();
    struct plan_row row = read_row(&work, fixture_ripple(&work), 9, 0);

    CU_ASSERT_EQUAL(row.times, 7);
    CU_ASSERT_EQUAL_FATAL(row.nunit, 3);
    check_run(&row.unit[0], 1, FIXTURE_CREAM);
    check_run(&row.unit[1], 2, FIXTURE_SLATE);
    check_run(&row.unit[2], 9, FIXTURE_CREAM);
    check_catch(&row.unit[2], FIXTURE_SLATE, 7);
    CU_ASSERT_EQUAL(row.join_stitches, 10);
    CU_ASSERT_EQUAL(row.join_yarn, FIXTURE_CREAM);
    CU_ASSERT_EQUAL(row.nyarns, 2);
    CU_ASSERT_EQUAL(row.yarns[0], FIXTURE_CREAM);
    arena_destroy(work.arena);
}

/* By hand: one-and-one is a unit of two, 42 times; a round in one yarn is one run of 84; round 7
 * has its sewn-on stitch in the yarn under it: 3 slate, 7 cream, 2 slate. */
static void ripple_other_rounds(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = fixture_ripple(&work);
    struct plan_row row = read_row(&work, plan, 2, 0);

    CU_ASSERT_EQUAL(row.unit_stitches, 2);
    CU_ASSERT_EQUAL(row.times, 42);
    row = read_row(&work, plan, 1, 0);
    CU_ASSERT_EQUAL_FATAL(row.nunit, 1);
    CU_ASSERT_EQUAL(row.times, 1);
    check_run(&row.unit[0], 84, FIXTURE_CREAM);
    row = read_row(&work, plan, 7, 0);
    CU_ASSERT_EQUAL_FATAL(row.nunit, 3);
    check_run(&row.unit[1], 7, FIXTURE_CREAM);
    CU_ASSERT_EQUAL(row.join_stitches, 5);
    arena_destroy(work.arena);
}

/* By hand: two halves alike in colour are two units only while their catches are alike too. */
static void unit_holds_catches(void)
{
    static const char *const rows[] = {".....x.....x", NULL};
    static const struct fixture_catch alike[] = {{1, 4, FIXTURE_SLATE}, {1, 10, FIXTURE_SLATE}};
    static const struct fixture_catch unlike[] = {{1, 4, FIXTURE_SLATE}, {1, 9, FIXTURE_SLATE}};
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_plan(&work, rows, 3, true);
    struct plan_row row;

    plan->piece.bands[0].catches = fixture_catches(&work, alike, 2);
    row = read_row(&work, plan, 1, 0);
    CU_ASSERT_EQUAL(row.unit_stitches, 6);
    CU_ASSERT_EQUAL(row.times, 6);
    check_catch(&row.unit[1], FIXTURE_SLATE, 3);
    plan->piece.bands[0].catches = fixture_catches(&work, unlike, 2);
    row = read_row(&work, plan, 1, 0);
    CU_ASSERT_EQUAL(row.unit_stitches, 12);
    CU_ASSERT_EQUAL(row.times, 3);
    CU_ASSERT_EQUAL(row.nunit, 4);
    arena_destroy(work.arena);
}

/* By hand: empty squares are no stitches, but keep their columns for the catch. */
static void empty_squares(void)
{
    static const char *const rows[] = {"x.-..-.x", NULL};
    static const struct fixture_catch catches[] = {{1, 5, FIXTURE_SLATE}};
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_plan(&work, rows, 2, true);
    struct plan_row row;

    plan->piece.bands[0].catches = fixture_catches(&work, catches, 1);
    row = read_row(&work, plan, 1, 0);
    CU_ASSERT_EQUAL(row.stitches, 12);
    CU_ASSERT_EQUAL_FATAL(row.nunit, 3);
    check_run(&row.unit[1], 4, FIXTURE_CREAM);
    check_catch(&row.unit[1], FIXTURE_SLATE, 3);
    CU_ASSERT_EQUAL(row.join_stitches, 2);
    arena_destroy(work.arena);
}

static struct plan *flat_plan(struct work *work)
{
    static const char *const rows[] = {"..xx", "...x", NULL};
    static const char *const left[] = {".x", "..", NULL};
    static const char *const right[] = {".", "x", NULL};
    struct plan *plan = fixture_plan(work, rows, 3, false);
    struct plan_band *band = plan->piece.bands;

    band->left = band->left_knitted = fixture_grid(work, left);
    band->right = band->right_knitted = fixture_grid(work, right);
    return plan;
}

/* By hand. Row 1, right side: 1 slate | 1 slate, 3 cream three times | 2 cream. Row 2, wrong side,
 * left to right: 1 cream, 1 slate | 2 cream, 2 slate three times | 1 cream. */
static void flat_both_sides(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = flat_plan(&work);
    struct plan_row row = read_row(&work, plan, 1, 0);

    CU_ASSERT_TRUE(row.right_side);
    CU_ASSERT_EQUAL(row.stitches, 15);
    CU_ASSERT_EQUAL_FATAL(row.nbefore, 1);
    check_run(&row.before[0], 1, FIXTURE_SLATE);
    CU_ASSERT_EQUAL(row.times, 3);
    CU_ASSERT_EQUAL_FATAL(row.nunit, 2);
    check_run(&row.unit[0], 1, FIXTURE_SLATE);
    check_run(&row.unit[1], 3, FIXTURE_CREAM);
    CU_ASSERT_EQUAL_FATAL(row.nafter, 1);
    check_run(&row.after[0], 2, FIXTURE_CREAM);

    row = read_row(&work, plan, 2, 0);
    CU_ASSERT_FALSE(row.right_side);
    CU_ASSERT_EQUAL_FATAL(row.nbefore, 2);
    check_run(&row.before[0], 1, FIXTURE_CREAM);
    check_run(&row.before[1], 1, FIXTURE_SLATE);
    CU_ASSERT_EQUAL_FATAL(row.nunit, 2);
    check_run(&row.unit[0], 2, FIXTURE_CREAM);
    check_run(&row.unit[1], 2, FIXTURE_SLATE);
    CU_ASSERT_EQUAL_FATAL(row.nafter, 1);
    check_run(&row.after[0], 1, FIXTURE_CREAM);
    plan->piece.bands[0].first_round = 4;
    CU_ASSERT_FALSE(read_row(&work, plan, 1, 0).right_side);
    arena_destroy(work.arena);
}

/* By hand: slate floats behind 7 cream over every join; after the last repeat there is no slate
 * to come, so the ring's catch does not stand there, and the edge has one of its own. */
static void outermost_repeat_differs(void)
{
    static const char *const rows[] = {".......x", NULL};
    static const struct fixture_catch inner[] = {{1, 5, FIXTURE_SLATE}};
    static const struct fixture_catch outer[] = {{1, 28, FIXTURE_SLATE}};
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_plan(&work, rows, 4, false);
    struct plan_row row;

    plan->piece.bands[0].catches = fixture_catches(&work, inner, 1);
    plan->piece.bands[0].outer = fixture_catches(&work, outer, 1);
    row = read_row(&work, plan, 1, 0);
    CU_ASSERT_EQUAL(row.times, 3);
    CU_ASSERT_EQUAL(row.nbefore, 0);
    CU_ASSERT_EQUAL_FATAL(row.nunit, 2);
    check_catch(&row.unit[1], FIXTURE_SLATE, 4);
    CU_ASSERT_EQUAL_FATAL(row.nafter, 2);
    check_run(&row.after[1], 7, FIXTURE_CREAM);
    check_catch(&row.after[1], FIXTURE_SLATE, 3);
    arena_destroy(work.arena);
}

/* --- a second reading --------------------------------------------------------------- */

enum { ROW_MAX = 64 };

struct laid { /* a row stitch by stitch as worked: yarn, and a bit for each strand caught */
    int count;
    int yarn[ROW_MAX];
    unsigned caught[ROW_MAX];
};

static void lay_runs(struct laid *laid, const struct row_run *runs, int nruns)
{
    for (int i = 0; i < nruns; i++) {
        for (int k = 0; k < runs[i].ncatches; k++)
            laid->caught[laid->count + runs[i].catches[k].behind - 1] |=
                1u << runs[i].catches[k].strand;
        for (int k = 0; k < runs[i].stitches; k++)
            laid->yarn[laid->count++] = runs[i].yarn;
    }
}

static struct laid lay_row(const struct plan_row *row)
{
    struct laid laid = {0};

    lay_runs(&laid, row->before, row->nbefore);
    for (int i = 0; i < row->times; i++)
        lay_runs(&laid, row->unit, row->nunit);
    lay_runs(&laid, row->after, row->nafter);
    return laid;
}

static bool used_between(const struct laid *laid, int strand, int from, int to)
{
    for (int i = from; i < to; i++)
        if (laid->yarn[i] == strand)
            return true;
    return false;
}

/* From the chart alone, every square for itself, right to left. */
static struct laid lay_chart(const struct plan *plan, const struct catch_map *inner)
{
    const struct plan_band *band = plan->piece.bands;
    struct laid laid = {0};
    int right = band->right_knitted.ncols, n = band->knitted.ncols, end = right + n * band->repeats;

    for (int i = 0; i < right; i++)
        laid.yarn[laid.count++] = band->right_knitted.cell[i];
    for (int i = 0; i < n * band->repeats; i++)
        laid.yarn[laid.count++] = band->knitted.cell[i % n];
    for (int i = 0; i < band->left_knitted.ncols; i++)
        laid.yarn[laid.count++] = band->left_knitted.cell[i];
    for (int copy = 0; copy < band->repeats; copy++)
        for (int64_t k = 0; k < inner->count; k++) {
            int at = right + copy * n + inner->mark[k].column;
            int strand = inner->mark[k].strand;

            if (plan->round || (used_between(&laid, strand, right, at) &&
                                used_between(&laid, strand, at + 1, end)))
                laid.caught[at] |= 1u << strand;
        }
    return laid;
}

static void turn(struct laid *laid)
{
    struct laid was = *laid;

    for (int i = 0; i < was.count; i++) {
        laid->yarn[i] = was.yarn[was.count - 1 - i];
        laid->caught[i] = was.caught[was.count - 1 - i];
    }
}

static unsigned next_random(unsigned *state)
{
    *state = *state * 1664525u + 1013904223u;
    return *state >> 16;
}

static int random_catches(unsigned *state, const char *row, struct fixture_catch *catches)
{
    int n = (int)strlen(row), count = 0;

    for (int column = 1; column <= n; column++) {
        bool slate = row[n - column] == 'x';

        if (next_random(state) % 4 == 0)
            catches[count++] =
                (struct fixture_catch){1, column, slate ? FIXTURE_CREAM : FIXTURE_SLATE};
    }
    return count;
}

static void check_same(const struct laid *read, const struct laid *wanted, const char *row)
{
    bool same = read->count == wanted->count &&
                memcmp(read->yarn, wanted->yarn, sizeof read->yarn) == 0 &&
                memcmp(read->caught, wanted->caught, sizeof read->caught) == 0;

    CU_ASSERT_TRUE(same);
    if (!same)
        printf("  row %s\n", row);
}

static void check_case(struct work *work, const char *marks, int repeats, bool round, int first,
                       unsigned *state)
{
    static const char *const sides[] = {"x.", NULL}, *const other[] = {"...", NULL};
    const char *const rows[] = {marks, NULL};
    struct plan *plan = fixture_plan(work, rows, repeats, round);
    struct plan_band *band = plan->piece.bands;
    struct fixture_catch catches[8];
    struct plan_row row;
    struct laid read, wanted;

    band->catches = fixture_catches(work, catches, random_catches(state, marks, catches));
    band->first_round = first;
    if (!round) /* rows with two ends have their outer floats, here without a catch */
        band->outer = fixture_catches(work, NULL, 0);
    if (!round && next_random(state) % 2) {
        band->left_knitted = fixture_grid(work, sides);
        band->right_knitted = fixture_grid(work, other);
    }
    row = read_row(work, plan, 1, 0);
    read = lay_row(&row);
    wanted = lay_chart(plan, band->catches);
    if (!row.right_side)
        turn(&wanted);
    check_same(&read, &wanted, marks);
    CU_ASSERT_EQUAL(row.stitches, wanted.count);
}

/* Every row of two yarns up to 7 wide, 1 to 5 repeats, round, flat right side and wrong side, with
 * catches strewn over it: what the words say, laid out, is the chart. */
static void every_small_row(void)
{
    struct work work = fixture_plan_work();
    unsigned state = 20u;

    for (int n = 1; n <= 7; n++)
        for (unsigned bits = 0; bits < 1u << n; bits++) {
            char marks[8] = {0};

            for (int i = 0; i < n; i++)
                marks[i] = bits >> i & 1 ? 'x' : '.';
            if (!strchr(marks, 'x') || !strchr(marks, '.'))
                continue;
            for (int repeats = 1; repeats <= 5; repeats++) {
                check_case(&work, marks, repeats, true, 1, &state);
                check_case(&work, marks, repeats, false, 1, &state);
                check_case(&work, marks, repeats, false, 2, &state);
            }
        }
    arena_destroy(work.arena);
}

/* In the round no shorter unit does: tried one by one. */
static void unit_is_shortest(void)
{
    struct work work = fixture_plan_work();

    for (unsigned bits = 1; bits < (1u << 6) - 1; bits++) {
        char marks[7] = {0};
        const char *const rows[] = {marks, NULL};
        struct plan_row row;
        int shortest = 6;

        for (int i = 0; i < 6; i++)
            marks[i] = bits >> i & 1 ? 'x' : '.';
        for (int unit = 3; unit >= 1; unit--)
            if (6 % unit == 0 && memcmp(marks, marks + unit, (size_t)(6 - unit)) == 0)
                shortest = unit;
        row = read_row(&work, fixture_plan(&work, rows, 2, true), 1, 0);
        CU_ASSERT_EQUAL(row.unit_stitches, shortest);
        CU_ASSERT_EQUAL(row.times, 12 / shortest);
    }
    arena_destroy(work.arena);
}

/* A row in one yarn is one run, there and back, and no unit of one stitch. */
static void flat_in_one_yarn(void)
{
    static const char *const rows[] = {"....", "....", "..xx", NULL};
    struct work work = fixture_plan_work();
    const struct plan *plan = fixture_plan(&work, rows, 3, false);

    for (int row = 2; row <= 3; row++) {
        struct plan_row read = read_row(&work, plan, row, 0);

        CU_ASSERT_EQUAL(read.stitches, 12);
        CU_ASSERT_EQUAL(read.times, 1);
        CU_ASSERT_EQUAL_FATAL(read.nunit, 1);
        check_run(&read.unit[0], 12, FIXTURE_CREAM);
        CU_ASSERT_EQUAL(read.nbefore + read.nafter, 0);
    }
    arena_destroy(work.arena);
}

/* Those of the first row are those listed, in any order. */
static void check_strands(struct work *work, const struct plan *plan, const struct strand *wanted, int nwanted)
{
    int count;
    const struct strand *strands = plan_row_strands(work, plan, plan->piece.bands, 0, &count);

    CU_ASSERT_EQUAL(count, nwanted);
    for (int i = 0; i < nwanted; i++) {
        int found = 0;

        for (int k = 0; k < count; k++)
            found += strands[k].from == wanted[i].from && strands[k].to == wanted[i].to &&
                     strands[k].from_open == wanted[i].from_open && strands[k].to_open == wanted[i].to_open &&
                     strands[k].yarn == wanted[i].yarn && strands[k].over_limit == wanted[i].over_limit &&
                     strands[k].span_sts == wanted[i].span_sts;
        CU_ASSERT_EQUAL(found, 1);
    }
}

/* By hand, from the right: a side stitch in slate, then 2 slate, 2 cream three times. Behind a repeat (columns 1 to 4)
 * each yarn passes two stitches of the other, over the join. Cream comes from the right edge behind three: the side
 * stitch is drawn with an end open to the edge and one to the repeat. In one repeat only, the whole row is drawn. */
static void strands_beside_a_side_stitch(void)
{
    static const char *const rows[] = {"..xx", NULL}, *const right[] = {"x", NULL};
    static const struct strand hand[] = {
        {2, 5, false, true, FIXTURE_SLATE, false, 2}, {1, 1, true, false, FIXTURE_SLATE, false, 2},
        {4, 5, false, true, FIXTURE_CREAM, false, 2}, {1, 3, true, false, FIXTURE_CREAM, false, 2},
        {0, 1, true, true, FIXTURE_CREAM, true, 3}};
    static const struct strand once[] = {{0, 3, true, false, FIXTURE_CREAM, true, 3},
                                         {2, 5, false, true, FIXTURE_SLATE, false, 2}};
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_plan(&work, rows, 3, false);
    struct plan_band *band = plan->piece.bands;

    band->right = band->right_knitted = fixture_grid(&work, right);
    band->side_sts = 1;
    band->leave_sts = 2;
    check_strands(&work, plan, hand, 5);
    band->repeats = 1;
    check_strands(&work, plan, once, 2);
    arena_destroy(work.arena);
}

CU_TestInfo tests_rows[] = {
    {"round 8 of the ripple, worked by hand", ripple_round_8},
    {"round 9 of the ripple: a run over the join", ripple_round_9},
    {"short units, one yarn, a stitch sewn on later", ripple_other_rounds},
    {"a unit repeats only with its catches", unit_holds_catches},
    {"empty squares are skipped", empty_squares},
    {"flat rows, both sides, with side stitches", flat_both_sides},
    {"the outermost repeat, where its catches differ", outermost_repeat_differs},
    {"every small row, laid out stitch by stitch", every_small_row},
    {"no shorter unit does", unit_is_shortest},
    {"flat in one yarn", flat_in_one_yarn},
    {"strands beside a side stitch", strands_beside_a_side_stitch},
    CU_TEST_INFO_NULL,
};
