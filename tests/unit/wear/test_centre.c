/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Centre, start of the round, needle joins: against second definitions over all small charts, and a
 * diamond worked by hand.
 */
#include <CUnit/Basic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_plan.h"
#include "fixture_work.h"
#include "model/wear/centre.h"

enum { ROWS = 2, COLUMNS = 4, YARNS = 3, CELLS = ROWS * COLUMNS, TIMES = 3 };

/* The number-th chart of two rows of four stitches in up to three yarns. */
static struct grid chart_of(int number, uint8_t *cell)
{
    for (int i = 0; i < CELLS; i++, number /= YARNS)
        cell[i] = (uint8_t)(number % YARNS);
    return (struct grid){ROWS, COLUMNS, cell};
}

static int charts(void)
{
    int n = 1;

    for (int i = 0; i < CELLS; i++)
        n *= YARNS;
    return n;
}

/* The spiral laid out stitch by stitch, three repeats round: rows 0, 1 and, worked again, 0, 1. */
static void start_of_the_round(void)
{
    struct work work = fixture_work();
    uint8_t cell[CELLS], spiral[4 * TIMES * COLUMNS];
    const int round = TIMES * COLUMNS;
    int wrong = 0;

    for (int number = 0; number < charts(); number++)
        for (int start = 0; start < COLUMNS; start++)
            for (int upwards = 1; upwards <= 2; upwards++) {
                struct grid grid = chart_of(number, cell);
                struct centre_start starts[COLUMNS], at;
                int jogs = 0, jogs_all = 0, longest = 0, seams = upwards > 1 ? ROWS : ROWS - 1;

                centre_starts(&work, &grid, upwards, starts);
                at = starts[start];
                for (int i = 0; i < 4 * round; i++)
                    spiral[i] = cell[i / round % ROWS * COLUMNS + (start + i) % COLUMNS];
                for (int r = 0; r < seams; r++) {
                    jogs += spiral[(r + 1) * round - 1] != spiral[(r + 2) * round - 1];
                    for (int yarn = 0; yarn < YARNS; yarn++) {
                        int last = -1, first = -1;

                        for (int i = 0; i < round; i++) {
                            if (spiral[r * round + i] == yarn)
                                last = r * round + i;
                            if (first < 0 && spiral[(r + 1) * round + i] == yarn)
                                first = (r + 1) * round + i;
                        }
                        if (last >= 0 && first >= 0 && first - last - 1 > longest)
                            longest = first - last - 1;
                    }
                }
                for (int r = seams; r < ROWS * upwards - 1; r++)
                    jogs_all += spiral[(r + 1) * round - 1] != spiral[(r + 2) * round - 1];
                wrong += at.jog_rows != jogs || at.jog_rows_all != jogs + jogs_all ||
                         at.strand_sts != longest ||
                         (at.strand_yarn >= 0) != (longest > 0);
            }
    CU_ASSERT_EQUAL(wrong, 0);
    fixture_end(&work);
}

/* Behind both sides of a place: a yarn of the row that neither stitch is in. The float is as long as the
 * run of stitches not in it. */
static void floats_over_joins(void)
{
    struct work work = fixture_work();
    uint8_t cell[CELLS];
    int wrong = 0;

    for (int number = 0; number < charts(); number++) {
        struct grid grid = chart_of(number, cell);
        struct centre_join join[COLUMNS];

        centre_joins(&work, &grid, join);
        for (int c = 0; c < COLUMNS; c++) {
            struct centre_join hand = {0, 0};

            for (int row = 0; row < ROWS; row++) {
                const uint8_t *r = cell + row * COLUMNS;
                int longest = 0;

                for (int yarn = 0; yarn < YARNS; yarn++) {
                    int left = 0, right = 0;

                    if (!memchr(r, yarn, COLUMNS))
                        continue;
                    while (r[(c + left) % COLUMNS] != yarn)
                        left++;
                    while (r[(c - 1 - right + 2 * COLUMNS) % COLUMNS] != yarn)
                        right++;
                    if (left > 0 && right > 0 && left + right > longest)
                        longest = left + right;
                }
                hand.rows += longest > 0;
                hand.longest_sts = longest > hand.longest_sts ? longest : hand.longest_sts;
            }
            wrong += hand.rows != join[c].rows || hand.longest_sts != join[c].longest_sts;
        }
    }
    CU_ASSERT_EQUAL(wrong, 0);
    fixture_end(&work);
}

/* Of all ways to divide within reach none has fewer rows crossed. */
static void needles_all_tried(void)
{
    enum { NCOLS = 6, STITCHES = 24, REACH = 2 };
    int wrong = 0, first = 1;

    for (int number = 0; number < 729; number++) {
        struct centre_join join[NCOLS], got;
        int sts[3], sum = 0, least = 1000;

        for (int c = 0, left = number; c < NCOLS; c++, left /= 3)
            join[c] = (struct centre_join){left % 3, left % 3 + 1};
        got = centre_needles(join, NCOLS, STITCHES, 3, first, REACH, sts);
        for (int a = 8 - REACH; a <= 8 + REACH; a++)
            for (int b = 16 - REACH; b <= 16 + REACH; b++) {
                int rows = join[(first + a) % NCOLS].rows + join[(first + b) % NCOLS].rows;

                least = rows < least ? rows : least;
            }
        for (int k = 0; k < 3; k++)
            sum += sts[k];
        wrong += got.rows != least || sum != STITCHES || abs(sts[0] - 8) > REACH ||
                 abs(sts[2] - 8) > REACH;
    }
    CU_ASSERT_EQUAL(wrong, 0);
}

static const struct plan *plan_of(struct work *work, const char *project)
{
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(work, project, &plan), RUN_DONE);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    return plan;
}

/* The points of 8, lone stitch in the middle of stitch 1: mirror lines through stitches 1 and 5. Seven
 * repeats are 56: the centre front lies between two stitches, so half a stitch is left; with an odd
 * number of repeats a motif in front means a gap behind. */
static void odd_repeats(void)
{
    struct work work = fixture_plan_work();
    const struct plan_centre *centre = plan_of(&work, "tests/projects/points.ini")->piece.bands[0].centre;

    CU_ASSERT_PTR_NOT_NULL_FATAL(centre);
    CU_ASSERT_EQUAL(centre->motif, 0);
    CU_ASSERT_EQUAL(centre->gap, 8);
    CU_ASSERT_FALSE(centre->alike);
    CU_ASSERT_TRUE(centre->front_half_off);
    CU_ASSERT_EQUAL(centre->front_back, LINE_GAP);
    /* 2 s + 56 half columns on from the start is a line of stitch 1: s = 4, stitch 5 begins the round */
    CU_ASSERT_EQUAL(centre->front_start, 4);
    arena_destroy(work.arena);
}

/* The points drawn three times into one chart are the same points: lone stitch and motif in stitch 1, as
 * in points.ini. */
static void drawn_again_in_one_chart(void)
{
    struct work work = fixture_plan_work();
    const struct plan_centre *centre =
        plan_of(&work, "tests/projects/points-thrice.ini")->piece.bands[0].centre;

    CU_ASSERT_PTR_NOT_NULL_FATAL(centre);
    CU_ASSERT_EQUAL(centre->motif, 0);
    CU_ASSERT_EQUAL(centre->gap, 8);
    CU_ASSERT_FALSE(centre->alike);
    /* 48 stitches, six points: motif in front, motif behind */
    CU_ASSERT_EQUAL(centre->front_back, LINE_MOTIF);
    arena_destroy(work.arena);
}

/* Six repeats: motif in front, motif behind. */
static void even_repeats(void)
{
    struct work work = fixture_plan_work();
    const struct plan_centre *centre =
        plan_of(&work, "tests/projects/points-even.ini")->piece.bands[0].centre;

    CU_ASSERT_PTR_NOT_NULL_FATAL(centre);
    CU_ASSERT_EQUAL(centre->front_back, LINE_MOTIF);
    CU_ASSERT_EQUAL(centre->front_start, 0);
    arena_destroy(work.arena);
}

/* The points begun with stitch 5, by hand from the chart: rows ..xxxxx. ...xxx.. ....x... ........ from
 * the right. Every row ends in dark, and so does the next: no jog. Light is used last two stitches
 * before the end of row 2 and first after four of row 3: 6. Motif now in the middle, stitch 5 of these. */
static void begun_with_another_stitch(void)
{
    static const char *const rows[] = {"..xxxxx.", "...xxx..", "....x...", "........"};
    struct work work = fixture_plan_work();
    const struct plan_band *band = &plan_of(&work, "tests/projects/points-begun.ini")->piece.bands[0];
    const struct plan_centre *centre = band->centre;

    CU_ASSERT_EQUAL(band->begin, 4);
    for (int row = 0; row < 4; row++)
        for (int c = 0; c < 8; c++)
            CU_ASSERT_EQUAL(band->drawn.cell[row * 8 + c], rows[row][c] == 'x');
    CU_ASSERT_PTR_NOT_NULL_FATAL(centre);
    CU_ASSERT_EQUAL(centre->motif, 8);
    CU_ASSERT_EQUAL(centre->gap, 0);
    CU_ASSERT_EQUAL(centre->now.stitch, 5);
    CU_ASSERT_EQUAL(centre->now.at.jog_rows, 0);
    CU_ASSERT_EQUAL(centre->now.at.strand_sts, 6);
    CU_ASSERT_EQUAL(centre->now.at.strand_row, 1);
    /* As in odd_repeats(): stitch 5 brings the motif in front, and with it these begin. */
    CU_ASSERT_EQUAL(centre->front_start, 0);
    CU_ASSERT_EQUAL(centre->front.stitch, 5);
    arena_destroy(work.arena);
}

/* The start as drawn has the strand that the tally of floats has, and the best is no worse. */
static void as_the_tally_has_it(void)
{
    static const char *const projects[] = {"tests/projects/ripple.ini", "tests/projects/points.ini",
                                           "examples/barley-socks/barley-socks.ini",
                                           "examples/skep-mittens/skep-mittens.ini"};

    for (size_t p = 0; p < sizeof projects / sizeof *projects; p++) {
        struct work work = fixture_plan_work();
        const struct plan *plan = plan_of(&work, projects[p]);

        for (int i = 0; i < plan->piece.nbands; i++) {
            const struct plan_band *band = &plan->piece.bands[i];
            int longest = 0;

            CU_ASSERT_PTR_NOT_NULL_FATAL(band->centre);
            for (int c = 0; c < band->ncolours; c++)
                if (band->colours[c].tally.start_longest_sts > longest)
                    longest = band->colours[c].tally.start_longest_sts;
            CU_ASSERT_EQUAL(band->centre->now.at.strand_sts, longest);
            CU_ASSERT_EQUAL(band->centre->nbest, 3);
            for (int s = 1; s < 3; s++) {
                const struct plan_start *a = &band->centre->best[s - 1], *b = &band->centre->best[s];

                CU_ASSERT_TRUE(a->over_limit < b->over_limit ||
                               (a->over_limit == b->over_limit &&
                                (a->at.jog_rows < b->at.jog_rows ||
                                 (a->at.jog_rows == b->at.jog_rows &&
                                  a->at.strand_sts <= b->at.strand_sts))));
            }
        }
        arena_destroy(work.arena);
    }
}

CU_TestInfo tests_centre[] = {
    {"start of the round, laid out", start_of_the_round},
    {"floats over joins, one by one", floats_over_joins},
    {"needles, all tried", needles_all_tried},
    {"odd repeats", odd_repeats},
    {"even repeats", even_repeats},
    {"drawn again in one chart", drawn_again_in_one_chart},
    {"begun with another stitch", begun_with_another_stitch},
    {"the strand of the tally", as_the_tally_has_it},
    CU_TEST_INFO_NULL,
};
