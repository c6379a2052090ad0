/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "fixture_fit.h"
#include "fixture_shaping.h"
#include "small_chart.h"
#include "small_charts_worked.h"

extern CU_TestInfo tests_fit[];

/* An ankle of 68.4 stitches, 8 to the inch, repeat 12; worked by hand. */
static void test_sock_by_hand(void)
{
    struct work work = new_work();
    struct fit_question question = QUESTION(r(684, 10), r(8, 1), 12, 0, true, NULL);
    int count;
    const struct fit_remedy *all = ways_round(&work, &question, &count), *one;

    CU_ASSERT_STRING_EQUAL(remedy_kind_name(FIT_ANOTHER_COUNT), "another count");
    CU_ASSERT_STRING_EQUAL(remedy_kind_name(FIT_REDRAW), "redraw");
    one = find(all, count, FIT_ANOTHER_COUNT, 0);
    CU_ASSERT_EQUAL(one->stitches, 72);
    CU_ASSERT_EQUAL(one->repeats, 6);
    CU_ASSERT_DOUBLE_EQUAL(one->finished_in, 9, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(one->off_in, 0.45, 1e-12);
    SAYS(one, "72 stitches (6 repeats of 12): 9 in (22.9 cm), 1/2 in (1.1 cm) larger than wanted.");
    one = find(all, count, FIT_ANOTHER_COUNT, 1);
    CU_ASSERT_EQUAL(one->stitches, 60);
    CU_ASSERT_DOUBLE_EQUAL(one->off_in, -1.05, 1e-12);
    question.cm_first = true;
    one = find(ways_round(&work, &question, &count), count, FIT_ANOTHER_COUNT, 0);
    SAYS(one, "22.9 cm (9 in), 1.1 cm (1/2 in) larger than wanted.");

    /* 5 x 14 = 70 is 8 3/4 in; 4 x 17 = 68, which is nearer. A float grows by 2 stitches, 1/4 in. */
    one = find(all, count, FIT_PLAIN_COLUMNS, 1);
    CU_ASSERT_FALSE(one->meets);
    CU_ASSERT_EQUAL(one->stitches, 70);
    CU_ASSERT_EQUAL(one->repeats, 5);
    CU_ASSERT_EQUAL(one->plain_columns, 2);
    CU_ASSERT_DOUBLE_EQUAL(one->finished_in, 8.75, 1e-12);
    SAYS(one, "longer by 2 stitches, 1/4 in (0.6 cm).");
    one = find(all, count, FIT_PLAIN_COLUMNS, 0);
    CU_ASSERT_TRUE(one->meets);
    CU_ASSERT_EQUAL(one->stitches, 68);
    CU_ASSERT_EQUAL(one->plain_columns, 5);

    /* 68 = 5 x 12 + 8. */
    one = find(all, count, FIT_PART_REPEATS, 0);
    CU_ASSERT_EQUAL(one->left_over, 8);
    SAYS(one, "centre 5 whole repeats and leave 8 over, 4 on each side of the start of the round");
    SAYS(one, "as part of a motif");
    SAYS(find(all, count, FIT_PART_REPEATS, 1), "plain");

    /* 7 x 10 and 5 x 14 are 70; no motif of 11 or 13 comes nearer. 4 x 17 = 68 would be another motif. */
    one = find(all, count, FIT_TRIM_OR_PAD, 0);
    CU_ASSERT_EQUAL(one->stitches, 70);
    CU_ASSERT_EQUAL(one->repeat_sts * one->repeats, 70);
    CU_ASSERT_EQUAL(find(all, count, FIT_TRIM_OR_PAD, 1)->repeat_sts, 24 - one->repeat_sts);
    CU_ASSERT_PTR_NULL(find(all, count, FIT_REDRAW, 0));

    /* 72 over 8.55 in: 8.42 to the inch, 5.3 % tighter; 60 is out of reach. */
    one = find(all, count, FIT_ANOTHER_GAUGE, 0);
    CU_ASSERT_DOUBLE_EQUAL(one->gauge_per_in, 8.42, 0.005);
    CU_ASSERT_DOUBLE_EQUAL(one->off_in, 0, 1e-12);
    SAYS(one, "a smaller needle");
    SAYS(one, "33.7 stitches to 4 in");
    SAYS(one, "5.3 % tighter");
    SAYS(one, "new swatch");
    CU_ASSERT_PTR_NULL(find(all, count, FIT_ANOTHER_GAUGE, 1));
    arena_destroy(work.arena);
}

/* The classic pair of lines, worked by hand: 72 stitches, a band of 84. */
static void test_shaping_by_hand(void)
{
    struct work work = new_work();
    struct fit_question question = QUESTION(r(72, 1), r(8, 1), 28, 0, true, NULL);
    int count;
    const struct fit_remedy *all = ways_round(&work, &question, &count), *one;
    const char *start = "Increase before the band: k3, m1, (k6, m1) 11 times, k3 (72 + 12 = 84); "
                        "decrease after it: k3, k2tog, (k5, k2tog) 11 times, k2 (84 - 12 = 72).";

    one = find(all, count, FIT_SHAPE, 0);
    CU_ASSERT_EQUAL(one->stitches, 84);
    CU_ASSERT_EQUAL(one->increase, 12);
    CU_ASSERT_EQUAL(one->decrease, 12);
    CU_ASSERT_FALSE(one->before_is_decrease);
    CU_ASSERT_DOUBLE_EQUAL(one->finished_in, 10.5, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(one->off_in, 1.5, 1e-12);
    CU_ASSERT_EQUAL(strncmp(one->line, start, strlen(start)), 0);
    SAYS(one, "10 1/2 in (26.7 cm), 1 1/2 in (3.8 cm) larger than wanted");
    SAYS(one, "2 plain rounds more");
    /* The reverse: 56 = 2 x 28. 72 to 56: 16 fewer, 40 plain, 2 1/2 to a gap. */
    one = find(all, count, FIT_SHAPE, 1);
    CU_ASSERT_EQUAL(one->stitches, 56);
    CU_ASSERT_TRUE(one->before_is_decrease);
    SAYS(one, "Decrease before the band: ");
    SAYS(one, "(72 - 16 = 56); increase after it: ");
    SAYS(one, "(56 + 16 = 72)");
    arena_destroy(work.arena);
}

/* 84 over 10 1/4 in at 8: 8.195 to the inch, 2.4 % (by hand). And just at the reach. */
static void test_gauge_by_hand(void)
{
    struct work work = new_work();
    struct fit_question question = QUESTION(r(82, 1), r(8, 1), 12, 0, true, NULL);
    int count;
    const struct fit_remedy *all = ways_round(&work, &question, &count), *one;

    one = find(all, count, FIT_ANOTHER_GAUGE, 0);
    CU_ASSERT_EQUAL(one->stitches, 84);
    CU_ASSERT_DOUBLE_EQUAL(one->gauge_per_in, 8.195, 0.0005);
    SAYS(one, "2.4 % tighter");
    /* 53 for 50 is 6 % exactly, and within; 47 for 50 likewise on the other side. */
    question = QUESTION(r(50, 1), r(5, 1), 53, 0, true, NULL);
    all = ways_round(&work, &question, &count);
    CU_ASSERT_PTR_NOT_NULL(find(all, count, FIT_ANOTHER_GAUGE, 0));
    question = QUESTION(r(50, 1), r(5, 1), 47, 0, true, NULL);
    all = ways_round(&work, &question, &count);
    one = find(all, count, FIT_ANOTHER_GAUGE, 0);
    CU_ASSERT_PTR_NOT_NULL_FATAL(one);
    SAYS(one, "a larger needle");
    SAYS(one, "6 % looser");
    question.gauge_reach = 0.059;
    all = ways_round(&work, &question, &count);
    CU_ASSERT_PTR_NULL(find(all, count, FIT_ANOTHER_GAUGE, 0));
    arena_destroy(work.arena);
}

/* A cushion: 85.25 stitches at 5 1/2, repeats of 20, 5 at the sides (by hand). */
static void test_flat_by_hand(void)
{
    struct work work = new_work();
    struct fit_question question = QUESTION(r(8525, 100), r(11, 2), 20, 5, false, NULL);
    int count;
    const struct fit_remedy *all = ways_round(&work, &question, &count), *one;

    one = find(all, count, FIT_ANOTHER_COUNT, 0);
    CU_ASSERT_EQUAL(one->stitches, 85);
    CU_ASSERT_EQUAL(one->repeats, 4);
    CU_ASSERT_DOUBLE_EQUAL(one->off_in, -0.25 / 5.5, 1e-12);
    SAYS(one, "85 stitches (4 repeats of 20 and 5 at the sides): 15 1/2 in (39.3 cm), as wanted");
    /* The size rounds to a count that fits: nothing to shape towards it, nothing over. */
    CU_ASSERT_EQUAL(find(all, count, FIT_SHAPE, 0)->stitches, 105);
    CU_ASSERT_PTR_NULL(find(all, count, FIT_SHAPE, 1));
    CU_ASSERT_PTR_NULL(find(all, count, FIT_PART_REPEATS, 0));
    CU_ASSERT_PTR_NULL(find(all, count, FIT_ANOTHER_GAUGE, 0));
    SAYS(find(all, count, FIT_SHAPE, 0), "rows more");
    SAYS(find(all, count, FIT_SHAPE, 0), "wider than wanted");

    /* 92 = 85 + 7: 4 at one edge, 3 at the other. */
    question.target_sts = r(92, 1);
    all = ways_round(&work, &question, &count);
    one = find(all, count, FIT_PART_REPEATS, 0);
    CU_ASSERT_EQUAL(one->left_over, 7);
    SAYS(one, "leave 7 over besides the 5 at the sides, 4 at one side edge and 3 at the other");
    arena_destroy(work.arena);
}

/* Odd counts beside the start of the round; columns as wide as the motif itself (by hand). */
static void test_odd_ends(void)
{
    struct work work = new_work();
    struct fit_question question = QUESTION(r(35, 1), r(8, 1), 12, 0, true, NULL);
    int count;
    const struct fit_remedy *all = ways_round(&work, &question, &count);

    /* 35 = 2 x 12 + 11; 25 = 2 x 12 + 1. */
    SAYS(find(all, count, FIT_PART_REPEATS, 0),
         "leave 11 over, 6 after the start of the round and 5 before it");
    question.target_sts = r(25, 1);
    all = ways_round(&work, &question, &count);
    SAYS(find(all, count, FIT_PART_REPEATS, 0), "leave 1 over, beside the start of the round");
    /* 30 = 3 + 2 x 12 + 3: 2 x 14 + 3 is a stitch off; 1 x 27 + 3 would meet it, but with 15 plain
     * columns to a motif of 12. */
    question = QUESTION(r(30, 1), r(8, 1), 12, 3, false, NULL);
    all = ways_round(&work, &question, &count);
    CU_ASSERT_EQUAL(find(all, count, FIT_PLAIN_COLUMNS, 0)->stitches, 31);
    CU_ASSERT_PTR_NULL(find(all, count, FIT_PLAIN_COLUMNS, 1));
    arena_destroy(work.arena);
}

static void test_nothing_to_say(void)
{
    struct work work = new_work();
    struct fit_question question = QUESTION(r(84, 1), r(8, 1), 12, 0, true, NULL);
    int count = 7;

    ways_round(&work, &question, &count);
    CU_ASSERT_EQUAL(count, 0);
    question = QUESTION(rational_none(), r(8, 1), 12, 0, true, NULL);
    count = 7;
    ways_round(&work, &question, &count);
    CU_ASSERT_EQUAL(count, 0);
    question = QUESTION(r(70, 1), r(8, 1), 0, 0, true, NULL);
    count = 7;
    ways_round(&work, &question, &count);
    CU_ASSERT_EQUAL(count, 0);
    question = QUESTION(r(INT64_MAX, 3), r(8, 1), 12, 0, true, NULL);
    count = 7;
    ways_round(&work, &question, &count);
    CU_ASSERT_EQUAL(count, 0);
    arena_destroy(work.arena);
}

/* A motif wider than the piece: only larger counts, and no whole repeat to centre. */
static void test_motif_too_wide(void)
{
    struct work work = new_work();
    struct fit_question question = QUESTION(r(85, 1), r(8, 1), 100, 0, true, NULL);
    int count;
    const struct fit_remedy *all = ways_round(&work, &question, &count);

    CU_ASSERT_EQUAL(count, 4);
    CU_ASSERT_EQUAL(find(all, count, FIT_REDRAW, 0)->repeat_sts, 85);
    CU_ASSERT_EQUAL(find(all, count, FIT_TRIM_OR_PAD, 0)->repeat_sts, 98);
    CU_ASSERT_EQUAL(find(all, count, FIT_ANOTHER_COUNT, 0)->stitches, 100);
    CU_ASSERT_EQUAL(find(all, count, FIT_SHAPE, 0)->stitches, 100);
    SAYS(&all[0], "Redraw the motif 85 columns wide in place of 100");
    CU_ASSERT_PTR_NULL(strstr(all[0].line, "strandwise resize"));
    question.redraw = "strandwise resize wide.ini --band leaves";
    all = ways_round(&work, &question, &count);
    SAYS(&all[0], "strandwise resize wide.ini --band leaves --columns 85.");
    SAYS(&all[2], "1 repeat of 100");
    /* More than double: the increase takes two rounds each way. */
    question.target_sts = r(40, 1);
    all = ways_round(&work, &question, &count);
    SAYS(find(all, count, FIT_SHAPE, 0), "Increase before the band over 2 rounds: ");
    SAYS(find(all, count, FIT_SHAPE, 0), "4 plain rounds more");
    arena_destroy(work.arena);
}

/* A line after `before`, up to the bracket of its sum, must lead from one count to the other. */
static bool leads(const char *sentence, const char *before, int from, int to)
{
    const char *start = strstr(sentence, before), *colon, *end;
    char sum[32], line[4096];
    int used, left;

    snprintf(sum, sizeof sum, " (%d %c ", from, to > from ? '+' : '-');
    colon = start ? strstr(start, ": ") : NULL;
    end = colon ? strstr(colon, sum) : NULL;
    if (!end || (size_t)(end - colon) >= sizeof line)
        return false;
    memcpy(line, colon + 2, (size_t)(end - colon - 2));
    line[end - colon - 2] = '\0';
    return shaping_read_back(line, &used, &left) && used == from && left == to;
}

static int faults_of(const struct fit_remedy *one, const struct fit_question *q)
{
    double per_in = rational_double(q->per_in), wanted = rational_double(q->target_sts) / per_in;
    int body = (int)rational_nearest(q->target_sts);
    int faults = one->stitches < 1 || one->repeats < 1;

    faults += one->stitches != one->repeats * one->repeat_sts + q->side_sts + one->left_over;
    faults += fabs(one->finished_in - (double)one->stitches / one->gauge_per_in) > 1e-9;
    faults += fabs(one->off_in - (one->finished_in - wanted)) > 1e-9;
    faults += strstr(one->line, "(1 repeats") || strstr(one->line, " 1 stitches") ||
              strstr(one->line, "?") || one->line[strlen(one->line) - 1] != '.';
    if (one->kind == FIT_PLAIN_COLUMNS)
        faults += one->repeat_sts != q->repeat_sts + one->plain_columns;
    else if (one->kind == FIT_TRIM_OR_PAD)
        faults += abs(one->repeat_sts - q->repeat_sts) != one->remake.ncolumns;
    else if (one->kind == FIT_REDRAW)
        faults += !one->meets || abs(one->repeat_sts - q->repeat_sts) < 1 ||
                  6 * abs(one->repeat_sts - q->repeat_sts) > q->repeat_sts;
    else
        faults += one->repeat_sts != q->repeat_sts;
    faults += one->meets != (fabs(one->off_in) <= q->near_ratio * wanted + 1e-12);
    if (one->kind == FIT_SHAPE) {
        faults +=
            one->stitches + (one->before_is_decrease ? one->decrease : -one->increase) != body;
        faults += !leads(one->line, "before the band", body, (int)one->stitches);
        faults += !leads(one->line, "after it", (int)one->stitches, body);
    }
    if (one->kind == FIT_ANOTHER_GAUGE)
        faults += fabs(one->gauge_per_in / per_in - 1) > q->gauge_reach + 1e-9;
    if (one->kind == FIT_PART_REPEATS)
        faults += one->stitches != body || one->left_over >= q->repeat_sts;
    return faults;
}

/* First of each kind against all counts there are. */
static int faults_of_best(const struct fit_remedy *all, int count, const struct fit_question *q)
{
    const struct fit_remedy *one = find(all, count, FIT_ANOTHER_COUNT, 0);
    double target = rational_double(q->target_sts), least = 1e9;
    int faults = 0;

    for (int n = q->repeat_sts + q->side_sts; n < 3 * target + 200; n += q->repeat_sts)
        least = fmin(least, fabs(n - target));
    faults += fabs(fabs((double)one->stitches - target) - least) > 1e-9;
    for (int i = 0; (one = find(all, count, FIT_PLAIN_COLUMNS, i)); i++)
        faults += fabs((double)one->stitches - target) >= least || one->plain_columns < 1;
    for (int kind = 0; kind < FIT_KIND_COUNT; kind++)
        faults += find(all, count, (enum fit_kind)kind, 2) != NULL;
    for (int i = 1; i < count; i++) { /* what meets the measure comes first, then the nearest size */
        faults += all[i].meets && !all[i - 1].meets;
        faults += !all[i - 1].meets && fabs(all[i].off_in) < fabs(all[i - 1].off_in) - 1e-9;
    }
    return faults;
}

static void test_every_remedy_adds_up(void)
{
    int faults = 0, remedies = 0, fitting = 0;

    for (int quarter = 40; quarter <= 500; quarter += 3) {
        struct work work = new_work();

        for (int repeat = 1; repeat <= 40; repeat++)
            for (int side = 0; side <= 5; side += 5) {
                struct fit_question question = QUESTION(r(quarter, 4), r(383, 48), repeat, side, side == 0, NULL);
                int count;
                const struct fit_remedy *all = ways_round(&work, &question, &count);
                bool fits = quarter % 4 == 0 && quarter / 4 >= repeat + side &&
                            (quarter / 4 - side) % repeat == 0;

                faults += fits != (count == 0);
                fitting += fits;
                for (int i = 0; i < count; i++)
                    faults += faults_of(&all[i], &question);
                faults += count > 0 ? faults_of_best(all, count, &question) : 0;
                remedies += count;
            }
        arena_destroy(work.arena);
    }
    CU_ASSERT_EQUAL(faults, 0);
    CU_ASSERT_TRUE(remedies > 10000);
    CU_ASSERT_TRUE(fitting > 100);
}

/* A ripple chart over 8.55 in at 8 to the inch, floats of an inch caught. Worked by hand, common
 * practice: seven repeats of 12 have 28 catches and a longest float of 10; two plain columns make it
 * 12, 1 1/2 in. Six repeats: 24. */
static void test_what_it_does_to_floats(void)
{
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, chart_ripple_sock, ".x"), none = {14, 0, NULL};
    struct fit_chart chart = {&grid, &none, &none, 6, 1, FLOATS_RING, r(1, 1), true};
    struct fit_question question = QUESTION(r(684, 10), r(8, 1), 12, 0, true, &chart);
    struct remake_band seven = {grid, none, none, 7};
    int count;
    const struct fit_remedy *all = ways_round(&work, &question, &count), *one;
    struct fit_floats floats = fit_count_floats(&work, &chart, &seven, r(8, 1));

    CU_ASSERT_TRUE(floats.known);
    CU_ASSERT_EQUAL(floats.catches_fewest, 28);
    CU_ASSERT_EQUAL(floats.over_limit, 28);
    CU_ASSERT_EQUAL(floats.longest_sts, 10);
    one = find(all, count, FIT_ANOTHER_COUNT, 0);
    CU_ASSERT_EQUAL(one->floats.catches_fewest, 24);
    SAYS(one, "Longest float: 10 stitches, 1 1/4 in (3.2 cm). Catches in the band: 24 at the fewest.");
    one = find(all, count, FIT_PLAIN_COLUMNS, 1);
    CU_ASSERT_EQUAL(one->plain_columns, 2);
    CU_ASSERT_EQUAL(one->floats.longest_sts, 12);
    CU_ASSERT_DOUBLE_EQUAL(one->floats.longest_in, 1.5, 1e-12);
    SAYS(one, "against 24 with 72 stitches");
    /* 8.42 to the inch: a float of 8 is under an inch, and only those of 9 and 10 are caught. */
    one = find(all, count, FIT_ANOTHER_GAUGE, 0);
    CU_ASSERT_EQUAL(one->floats.catches_fewest, 24);
    CU_ASSERT_DOUBLE_EQUAL(one->floats.longest_in, 10 / (72 / 8.55), 1e-9);
    CU_ASSERT_PTR_NULL(find(all, count, FIT_REDRAW, 0));
    /* Its rounds 2 and 3 are one and one: ten of twelve columns, two of them left out, meet alike. */
    SAYS(find(all, count, FIT_TRIM_OR_PAD, 0), "Chart rounds 2-3 are no longer one and one.");
    CU_ASSERT_EQUAL(find(all, count, FIT_TRIM_OR_PAD, 0)->nuneven_rows, 2);
    /* Of a motif still to be drawn nobody knows: 7 x 10 are 70. */
    question.target_sts = r(70, 1);
    all = ways_round(&work, &question, &count);
    CU_ASSERT_EQUAL(find(all, count, FIT_REDRAW, 0)->repeat_sts, 10);
    CU_ASSERT_FALSE(find(all, count, FIT_REDRAW, 0)->floats.known);
    question.target_sts = r(684, 10);
    /* Upwards twice: twice as many. */
    chart.upwards = 2;
    all = ways_round(&work, &question, &count);
    CU_ASSERT_EQUAL(find(all, count, FIT_ANOTHER_COUNT, 0)->floats.catches_fewest, 48);
    arena_destroy(work.arena);
}

/* The ripple again, over 12 1/4 in, floats that pull to 1.155 and stitches to 1.5 (the table's numbers;
 * the sums by hand). Its tightest round has 2 of 12 stitches in slate: 2/12 x 1.5 + 10/12 x 1.155 =
 * 1.2125 times, so 80.8 stitches pass at 8 to the inch, and none of 60, 68, 70 or 72 does. Over 11 in
 * 72.6 are asked: 72 do not. Over 10 1/2 in 69.3: 72 and 70 do, but two plain columns take 14 stitches
 * to the same 2 of slate: 2/14 x 1.5 + 12/14 x 1.155 = 1.2043, 69.8, and 70 do. */
static void test_what_must_pass(void)
{
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, chart_ripple_sock, ".x"), none = {14, 0, NULL};
    struct fit_chart chart = {&grid, &none, &none, 6, 1, FLOATS_RING, r(1, 1), true};
    struct fit_question question = QUESTION(r(684, 10), r(8, 1), 12, 0, true, &chart);
    int count;
    const struct fit_remedy *all = ways_round(&work, &question, &count), *one;

    CU_ASSERT_FALSE(all[0].must);
    CU_ASSERT_PTR_NULL(strstr(all[0].line, "pass "));
    question.must_in = 12.25;
    question.stitch_ratio = 1.5;
    question.float_ratio = 1.155;
    all = ways_round(&work, &question, &count);
    for (int i = 0; i < count; i++) { /* 84 stitches do, and are there for that */
        CU_ASSERT_TRUE(all[i].must);
        CU_ASSERT_EQUAL(all[i].passes, i == 0);
    }
    CU_ASSERT_EQUAL(all[0].stitches, 84);
    SAYS(&all[1], "does not pass 12 1/4 in (31.1 cm): it pulls to about ");
    question.must_in = 10.5;
    all = ways_round(&work, &question, &count);
    one = find(all, count, FIT_PLAIN_COLUMNS, 0);
    CU_ASSERT_EQUAL(one->stitches, 70);
    CU_ASSERT_TRUE(one->passes);
    CU_ASSERT_DOUBLE_EQUAL(one->pulls_to_in, 70 / 8.0 * (2 * 1.5 + 12 * 1.155) / 14, 1e-9);
    SAYS(one, "It passes 10 1/2 in (26.7 cm).");
    CU_ASSERT_TRUE(find(all, count, FIT_ANOTHER_COUNT, 0)->passes);
    CU_ASSERT_FALSE(find(all, count, FIT_ANOTHER_COUNT, 1)->passes);
    for (int i = 1; i < count; i++)
        CU_ASSERT_FALSE(all[i].passes && !all[i - 1].passes);
    arena_destroy(work.arena);
}

/* The words for each number, as a knitter would say them; without a chart nobody knows which stitches stand alone. */
static void test_stitches_that_stand_alone(void)
{
    static const char *const says[2][3] = {
        {NULL, " 1 stitch that stands alone in its row goes with it.",
         " 2 stitches that stand alone in their rows go with it."},
        {NULL, " 1 stitch that stands alone in its row becomes two.",
         " 2 stitches that stand alone in their rows become two each."}};
    static const char *const rows[] = {".x..........", "x.x........."};
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, rows, ".x");
    struct fit_chart chart = {.repeat = &grid, .repeats = 6, .upwards = 1, .ends = FLOATS_RING, .limit_in = r(1, 1)};
    struct fit_question question = QUESTION(r(684, 10), r(8, 1), 12, 0, true, &chart);
    struct fit_remedy remedy = {.kind = FIT_TRIM_OR_PAD, .stitches = 66, .repeats = 6, .repeat_sts = 11,
                                .finished_in = 8.25, .gauge_per_in = 8, .remake = {.ncolumns = 1}};
    struct fit_answer answer = {.remedies = &remedy, .count = 1, .facts = {.question = &question}};

    for (int twice = 0; twice < 2; twice++)
        for (int alone = 0; alone < 3; alone++) {
            remedy.remake.twice = twice == 1;
            remedy.remake.lone_sts = alone;
            question.chart = &chart;
            remedy_name(&work, &answer);
            remedy_say(&work, &answer);
            if (says[twice][alone]) {
                SAYS(&remedy, says[twice][alone]);
            } else {
                CU_ASSERT_PTR_NULL(strstr(remedy.line, "alone"));
            }
            question.chart = NULL;
            remedy_say(&work, &answer);
            CU_ASSERT_PTR_NULL(strstr(remedy.line, "alone"));
        }
    arena_destroy(work.arena);
}

CU_TestInfo tests_fit[] = {
    {"a sock by hand", test_sock_by_hand},
    {"increase before, decrease after", test_shaping_by_hand},
    {"another gauge, up to the reach", test_gauge_by_hand},
    {"a flat panel by hand", test_flat_by_hand},
    {"odd ends", test_odd_ends},
    {"nothing to say", test_nothing_to_say},
    {"a motif wider than the piece", test_motif_too_wide},
    {"what it does to the floats", test_what_it_does_to_floats},
    {"what must pass", test_what_must_pass},
    {"every remedy adds up", test_every_remedy_adds_up},
    {"stitches that stand alone", test_stitches_that_stand_alone},
    CU_TEST_INFO_NULL,
};
