/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redraw of small charts made for one thing each (tests/redraw/, invented): plain rows at one end, side
 * stitches, sizes far off, what is said. Expected by hand unless said otherwise (common practice, no printed source).
 */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_redraw.h"
#include "plan/redraw/redraw.h"
#include "render/draw/redraw.h"

static const struct plan_redraw *redraw(struct case_at *at, struct redraw_asked asked)
{
    const struct plan_redraw *redrawn = plan_redraw_make(&at->work, at->checked.plan, at->checked.read, &asked, &at->why);

    CU_ASSERT_PTR_NOT_NULL_FATAL(redrawn);
    return redrawn;
}

/* --- plain rows at one end ------------------------------------------------------------------------- */

static bool keeps(const struct plan_redraw *redrawn, enum symmetry_kind kind, int row)
{
    const struct resize_answer *answer = &redrawn->answer;

    for (int i = 0; i < answer->motif.nmoves; i++)
        if (answer->motif.move[i].kind == kind && (row < 0 || answer->motif.move[i].row == row))
            return answer->keeps[i];
    return false;
}

/* Rows first to last are their own mirror image, all others one colour. */
static bool stands_alone(const struct grid *chart, int first, int last)
{
    for (int r = 0; r < chart->nrows; r++)
        for (int c = 0; c < chart->ncols; c++) {
            uint8_t here = chart->cell[r * chart->ncols + c];

            if (here != (r < first || r > last ? 0 : chart->cell[(first + last - r) * chart->ncols + c]))
                return false;
        }
    return true;
}

/* Area in another colour than the old motif stretched over rows first to last, by specks: an old stitch of it is
 * 2 * new counts of them each way. */
static int64_t specks_off(const struct plan_redraw *redrawn, int old_first, int old_count, int first, int count)
{
    const struct grid *old = &redrawn->old->drawn, *chart = &redrawn->band->drawn;
    int64_t all_x = 2 * (int64_t)old->ncols * chart->ncols, all_y = 2 * (int64_t)old_count * count, off = 0;

    for (int64_t y = 0; y < all_y; y++)
        for (int64_t x = 0; x < all_x; x++) {
            int64_t old_x = (x - redrawn->answer.columns.phase + all_x) % all_x / (2 * chart->ncols);
            int64_t old_row = old_first + y / (2 * count), row = first + y / (2 * (int64_t)old_count);

            off += old->cell[old_row * old->ncols + old_x] !=
                   chart->cell[row * chart->ncols + x / (2 * (int64_t)old->ncols)];
        }
    return off;
}

/* 7 of the 8 rounds are the star: at 10 they are nearest 8.75 and odd, 9, and one stays plain; at 6 five and one,
 * at 9 it is 7.875: seven and two. */
static void star_alone(void)
{
    static const struct {
        int nrows, motif;
    } all[] = {{10, 9}, {6, 5}, {9, 7}, {11, 9}, {12, 11}};

    for (int above = 0; above < 2; above++) {
        struct case_at at = open_case(above ? "tests/redraw/star-above.ini" : "tests/redraw/star-below.ini");

        for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
            const struct plan_redraw *redrawn = redraw(&at, (struct redraw_asked){.ncols = 9, .nrows = all[i].nrows});
            int surplus = all[i].nrows - all[i].motif, first = above ? 0 : surplus;
            double whole = 4.0 * 7 * 7 * 9 * all[i].nrows; /* specks of all new stitches */

            CU_ASSERT_EQUAL_FATAL(redrawn->band->drawn.nrows, all[i].nrows);
            CU_ASSERT_EQUAL(redrawn->plain.above_was, above);
            CU_ASSERT_EQUAL(redrawn->plain.below_was, !above);
            CU_ASSERT_EQUAL(redrawn->plain.above_now, above ? surplus : 0);
            CU_ASSERT_EQUAL(redrawn->plain.below_now, above ? 0 : surplus);
            CU_ASSERT_TRUE(keeps(redrawn, SYMMETRY_UPSIDE, above ? 6 : 8)); /* about round 4, or 5 */
            CU_ASSERT_TRUE(keeps(redrawn, SYMMETRY_ACROSS, -1));
            CU_ASSERT_TRUE(stands_alone(&redrawn->band->drawn, first, first + all[i].motif - 1));
            CU_ASSERT_DOUBLE_EQUAL(redrawn->differs_part * whole,
                                   (double)specks_off(redrawn, !above, 7, first, all[i].motif), 1e-6);
            for (int c = 0; c < 9; c++) /* the plain round next to the star */
                CU_ASSERT_FALSE(surplus > 0 && redrawn->answer.changed[(above ? all[i].motif : 0) * 9 + c]);
        }
        arena_destroy(at.work.arena);
    }
}

/* Marked stitches are in another place where the plain rows are: the same chart otherwise. */
static void star_marks(void)
{
    struct case_at above = open_case("tests/redraw/star-above.ini"), below = open_case("tests/redraw/star-below.ini");
    const struct redraw_asked asked = {.ncols = 9, .nrows = 10};
    const struct plan_redraw *a = redraw(&above, asked), *b = redraw(&below, asked);

    CU_ASSERT_TRUE(a->answer.nchanged > 0);
    CU_ASSERT_EQUAL(a->answer.nchanged, b->answer.nchanged);
    CU_ASSERT_EQUAL(memcmp(a->answer.changed, b->answer.changed + 9, 9 * 9 * sizeof *a->answer.changed), 0);
    CU_ASSERT_EQUAL(memcmp(a->band->drawn.cell, b->band->drawn.cell + 9, 9 * 9), 0);
    arena_destroy(above.work.arena);
    arena_destroy(below.work.arena);
}

/* --- side stitches ---------------------------------------------------------------------------------- */

/* Rows of a half with an x in the side stitches at either side, as many in the other half, and each beside a repeat
 * row with an x at its edge, as in the old chart. */
static void sides_stay(void)
{
    struct case_at at = open_case("tests/redraw/sides.ini");

    for (int nrows = 7; nrows <= 26; nrows++) {
        const struct plan_redraw *redrawn = redraw(&at, (struct redraw_asked){.nrows = nrows});
        const struct grid *chart = &redrawn->band->drawn, *left = &redrawn->band->left, *right = &redrawn->band->right;
        int half[2] = {0, 0};

        CU_ASSERT_EQUAL_FATAL(left->nrows, nrows);
        for (int r = 0; r < nrows; r++) {
            uint8_t x = left->cell[r * 2]; /* the one beside the repeat */

            CU_ASSERT_EQUAL(right->cell[r * 2 + 1], x);
            CU_ASSERT_EQUAL(left->cell[(nrows - 1 - r) * 2], x);
            CU_ASSERT_EQUAL(left->cell[r * 2 + 1] + right->cell[r * 2], 0);
            if (x == 0)
                continue;
            half[2 * r >= nrows]++;
            CU_ASSERT_TRUE(chart->cell[r * 11] != 0 && chart->cell[r * 11 + 10] != 0);
        }
        CU_ASSERT_TRUE(half[0] > 0 && half[1] > 0);
    }
    arena_destroy(at.work.arena);
}

static void sides_on_the_page(void)
{
    struct case_at at = open_case("tests/redraw/sides.ini");
    struct text out = text_create(at.work.arena);
    static const struct words_style style = {.width = 90};

    render_redraw(&at.work, at.checked.plan, redraw(&at, (struct redraw_asked){.nrows = 16}), &style, &out);
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, "\n. x | x . . . x x x . . . x | x .  11 "));
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, ". x | x . . . x x x . . . x | x .   4\n"));
    arena_destroy(at.work.arena);
}

/* --- what the project says -------------------------------------------------------------------------- */

/* The page's words, each space one, up to the charts. */
static const char *page_words(struct case_at *at, struct redraw_asked asked)
{
    struct text out = text_create(at->work.arena), flat = text_create(at->work.arena);
    static const struct words_style style = {.width = 80};

    render_redraw(&at->work, at->checked.plan, redraw(at, asked), &style, &out);
    for (const char *c = out.bytes; *c; c++)
        if (*c != ' ' && *c != '\n')
            text_addf(&flat, "%c", *c);
        else if (flat.length > 0 && flat.bytes[flat.length - 1] != ' ')
            text_add(&flat, " ");
    return flat.bytes;
}

/* 9 in at 7 to the inch are 63 stitches: 9 repeats of 7 and 7 of 9. A project that says 9 is to say 7 then. */
static void repeats_to_write(void)
{
    struct case_at given = open_case("tests/redraw/repeats.ini"), fitted = open_case("tests/redraw/star-above.ini");
    const char *words = page_words(&given, (struct redraw_asked){.ncols = 9});

    CU_ASSERT_EQUAL(redraw(&given, (struct redraw_asked){.ncols = 9})->repeats, 7);
    CU_ASSERT_PTR_NOT_NULL(strstr(words, "write repeats = 7 under [band star]"));
    CU_ASSERT_EQUAL(redraw(&given, (struct redraw_asked){.nrows = 10})->repeats, 0);
    CU_ASSERT_EQUAL(redraw(&fitted, (struct redraw_asked){.ncols = 9})->repeats, 0);
    CU_ASSERT_PTR_NULL(strstr(words, "solved with the other bands"));
    arena_destroy(given.work.arena);
    arena_destroy(fitted.work.arena);
}

static void counted_with_others(void)
{
    struct case_at at = open_case("tests/redraw/together.ini");
    struct redraw_asked asked = {.ncols = 9};

    for (asked.band = 0; asked.band < 2; asked.band++)
        CU_ASSERT_PTR_NOT_NULL(strstr(page_words(&at, asked), "those of this band alone"));
    arena_destroy(at.work.arena);
}

/* Worked with a column left out the star is 6 wide, and no longer what the chart file has. */
static void remedy_taken_out(void)
{
    struct case_at at = open_case("tests/redraw/trimmed.ini"), none = open_case("tests/redraw/star-above.ini");
    const char *words = page_words(&at, (struct redraw_asked){.ncols = 9});

    CU_ASSERT_PTR_NOT_NULL(strstr(words, "drawn from what that makes of it: with the new chart take \"remedy\" out."));
    CU_ASSERT_EQUAL(redraw(&at, (struct redraw_asked){.ncols = 9})->columns.was, 6);
    CU_ASSERT_PTR_NULL(strstr(page_words(&none, (struct redraw_asked){.ncols = 9}), "remedy"));
    arena_destroy(at.work.arena);
    arena_destroy(none.work.arena);
}

/* --- a size far off ---------------------------------------------------------------------------------- */

/* By hand: 5 x 22.35 / 28 = 3.99 stitches, 5 x 25 / 32 = 3.91 rounds; odd ones are 3 and 5, a quarter off; 4 is
 * +0.2 and +2.4 %. Four times 5 rounds at 8 are 2.5 in, 4 x 3 at 6.25 1.92, 5 x 3 2.4 (-4 %). */
static void lattice_far_off(void)
{
    struct case_at at = open_case("tests/redraw/lattice.ini");
    struct redraw_asked asked = {.has_gauge = true, .per_in = rational_make(2235, 400), .rows_per_in = {25, 4}};
    const struct plan_redraw *redrawn = redraw(&at, asked);
    const char *words = page_words(&at, asked);

    CU_ASSERT_EQUAL(redrawn->columns.now, 3);
    CU_ASSERT_EQUAL(redrawn->columns.nearer, 4);
    CU_ASSERT_TRUE(redrawn->columns.nearer_moves_middle);
    CU_ASSERT_DOUBLE_EQUAL(redrawn->columns.nearer_off_part, 0.002, 0.0005);
    CU_ASSERT_EQUAL(redrawn->rows.nearer, 4);
    CU_ASSERT_DOUBLE_EQUAL(redrawn->rows.nearer_off_part, 0.024, 0.0005);
    CU_ASSERT_PTR_NOT_NULL(strstr(words, "without the centre line in its place, which is what costs the size: --columns"));
    CU_ASSERT_DOUBLE_EQUAL(redrawn->upwards.was_in, 2.5, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(redrawn->upwards.now_in, 1.92, 1e-9);
    CU_ASSERT_EQUAL(redrawn->upwards.best, 5);
    CU_ASSERT_DOUBLE_EQUAL(redrawn->upwards.best_off_part, -0.04, 1e-9);
    CU_ASSERT_PTR_NOT_NULL(strstr(words, "upwards = 5 would be "));
    asked.ncols = asked.nrows = 4; /* what it offers is taken, and then nothing is said of it */
    redrawn = redraw(&at, asked);
    CU_ASSERT_EQUAL(redrawn->columns.nearer + redrawn->rows.nearer, 0);
    CU_ASSERT_FALSE(redrawn->answer.columns.keeps_middle);
    arena_destroy(at.work.arena);
}

/* 18.86 stitches by 10.13 rounds: a half-drop of an eighth and a quarter needs 16 or 24 and 8 or 12, and no such
 * rounds are within a sixth. Lice of two stitches that no mirror has: so 20, a multiple of 4, and not 16. */
static void drop_not_paid_for(void)
{
    static const char *const one = "xo....xo....xo....xo....", *const other = "...xo....xo....xo....xo.";
    static const char *const none = "........................";
    const char *const rows[] = {none, one, none, none, other, none, none, one, none, none, other, none, NULL};
    struct work work = fixture_plan_work();
    struct grid grid = fixture_grid(&work, rows);
    int ncols, nrows;

    resize_counts(&grid, true, rational_make(24 * 11, 14), rational_make(12 * 27, 32), &ncols, &nrows);
    CU_ASSERT_EQUAL(ncols, 20);
    CU_ASSERT_EQUAL(nrows, 10);
    resize_counts(&grid, true, rational_make(24 * 11, 14), rational_make(12, 1), &ncols, &nrows);
    CU_ASSERT_EQUAL(ncols, 16);
    CU_ASSERT_EQUAL(nrows, 12);
    arena_destroy(work.arena);
}

/* Single lice are mirrored about two stitches of six; of five, one of the two lies between: 16 is kept for that, and
 * 20 named. */
static void lice_that_keep_it(void)
{
    struct case_at at = open_case("tests/redraw/lice.ini");
    struct redraw_asked asked = {.has_gauge = true, .per_in = {11, 2}, .rows_per_in = {27, 4}};
    const struct plan_redraw *redrawn = redraw(&at, asked);

    CU_ASSERT_EQUAL(redrawn->columns.now, 16);
    CU_ASSERT_EQUAL(redrawn->columns.nearer, 20);
    CU_ASSERT_TRUE(redrawn->columns.nearer_moves_middle);
    CU_ASSERT_FALSE(keeps(redrawn, SYMMETRY_DROP, -1));
    CU_ASSERT_PTR_NOT_NULL(strstr(page_words(&at, asked), "the nearest that can are --columns 16 --rows 12."));
    asked.ncols = redrawn->keeps_cols;
    asked.nrows = redrawn->keeps_rows;
    CU_ASSERT_TRUE(keeps(redraw(&at, asked), SYMMETRY_DROP, -1));
    CU_ASSERT_EQUAL(redraw(&at, asked)->keeps_cols, 0);
    arena_destroy(at.work.arena);
}

/* A plus has four ends; one stitch has one. At its own size nothing is gone. */
static void plus_that_shrinks(void)
{
    struct case_at at = open_case("tests/redraw/plus.ini");
    struct redraw_asked small = {.ncols = 5, .nrows = 5}, same = {.ncols = 7};
    const struct plan_redraw *redrawn = redraw(&at, small);
    int stitches = 0;

    for (int i = 0; i < 25; i++)
        stitches += redrawn->band->drawn.cell[i] != 0;
    CU_ASSERT_EQUAL_FATAL(stitches, 1);
    CU_ASSERT_EQUAL(redrawn->answer.ends_lost, 3);
    CU_ASSERT_EQUAL(redrawn->answer.ends_rows.count, 3);
    CU_ASSERT_PTR_NOT_NULL(strstr(page_words(&at, small), "3 short arms or tips are gone: look at rounds 3-5 of the old"));
    CU_ASSERT_PTR_NULL(strstr(page_words(&at, small), "Every line is whole"));
    CU_ASSERT_EQUAL(redraw(&at, same)->answer.ends_lost, 0);
    CU_ASSERT_PTR_NOT_NULL(strstr(page_words(&at, same), "Every line is whole"));
    arena_destroy(at.work.arena);
}

CU_TestInfo tests_redraw_motif[] = {
    {"a plain round at one end of a star", star_alone},
    {"its marked stitches", star_marks},
    {"side stitches stay beside their rows", sides_stay},
    {"and stand on the page", sides_on_the_page},
    {"repeats that the project gives", repeats_to_write},
    {"a count solved with others", counted_with_others},
    {"a remedy of the old chart", remedy_taken_out},
    {"a lattice a quarter off", lattice_far_off},
    {"a half-drop that the rounds cannot hold costs no width", drop_not_paid_for},
    {"half-drop lice, and the counts that keep them", lice_that_keep_it},
    {"a plus that becomes one stitch", plus_that_shrinks},
    CU_TEST_INFO_NULL,
};
