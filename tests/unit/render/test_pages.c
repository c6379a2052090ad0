/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Papers to print: what stands on them, and that it has room there. The sock top of fixture_plan.h,
 * its figures by hand.
 */
#include <CUnit/Basic.h>
#include <string.h>

#include "base/arena.h"
#include "fixture_plan.h"
#include "render/paper/parts.h"
#include "render/report/report.h"

static int count_label(const struct sheet *sheet, const char *label)
{
    int n = 0;

    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        n += item->label && strcmp(item->label, label) == 0;
    return n;
}

static int count_words(const struct sheet *sheet, const char *words)
{
    int n = 0;

    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        n += item->kind == SHEET_WORDS && strstr(item->words, words) != NULL;
    return n;
}

/* The last height of words, from the top. */
static double lowest_mm(const struct sheet *sheet)
{
    double lowest = 0;

    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        if (item->kind == SHEET_WORDS && item->y_mm > lowest)
            lowest = item->y_mm;
    return lowest;
}

/* Widths of DejaVu Sans 2.37 by its table: i 278, W 989, blank 318 thousandths. */
static void widths_are_those_of_the_face(void)
{
    CU_ASSERT_DOUBLE_EQUAL(sheet_words_width_mm("iW i", 2.385, false),
                           2.385 * (0.278 + 0.989 + 0.318 + 0.278), 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(sheet_words_width_mm("i\001i", 2.385, false),
                           2.385 * (0.278 + 0.318 + 0.278), 1e-9);
    CU_ASSERT_TRUE(sheet_words_width_mm("W", 2.385, true) > sheet_words_width_mm("W", 2.385, false));
}

static void lines_stay_within_their_room(void)
{
    static const char words[] = "knit 3, (slip 1, purl 17) 4" WORDS_TIE "times, "
                                "averylongnamewithoutanyblankinitthatdoesnotfitatall and \u00BD more";
    struct work work = fixture_plan_work();
    size_t letters = 0;

    for (double room = 8; room < 60; room += 2.385) {
        struct sheet *sheet = sheet_create(&work);
        double y = type_put(sheet, &work, 4, 7, room, 3.2, words);
        int lines = 0;

        letters = 0;
        for (const struct sheet_item *item = sheet->first; item; item = item->next, lines++) {
            CU_ASSERT_TRUE(sheet_words_width_mm(item->words, 3.2, false) <= room);
            letters += strlen(item->words);
        }
        CU_ASSERT_DOUBLE_EQUAL(y, 7 + lines * type_leading_mm(3.2), 1e-9);
        CU_ASSERT_TRUE(letters + (size_t)lines > strlen(words)); /* only blanks at line ends are gone */
        CU_ASSERT_DOUBLE_EQUAL(type_put(NULL, &work, 4, 7, room, 3.2, words), y, 1e-9);
    }
    arena_destroy(work.arena);
}

static void tables_keep_their_face_on_the_screen(void)
{
    struct work work = fixture_plan_work();
    struct sheet *sheet = sheet_create(&work);
    struct text text = text_create(work.arena);

    sheet_add_words(sheet, 3, 7, 3.2, SHEET_START, "barley   14")->mono = true;
    sheet_write_svg(sheet, &text);
    CU_ASSERT_PTR_NOT_NULL(strstr(text.bytes, "font-family=\"'DejaVu Sans Mono'"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text.bytes, "xml:space=\"preserve\""));
    arena_destroy(work.arena);
}

/* Two socks: two boxes to each of 8 steps and of the sewing after them. */
static void bag_has_a_box_for_each_piece(void)
{
    struct work work = fixture_plan_work();
    struct pages pages = pages_create(&work, fixture_ripple(&work));
    unsigned whole = 0;
    const struct sheet *sheet = pages_bag(&pages.page, &whole);

    CU_ASSERT_EQUAL(count_label(sheet, "tick box"), 2 * (8 + 1));
    CU_ASSERT_EQUAL(whole, REPORT_BEFORE | REPORT_BUY | REPORT_STEPS);
    CU_ASSERT_EQUAL(count_words(sheet, "Cast on 72"), 1);
    CU_ASSERT_EQUAL(count_label(sheet, "swatch of coral"), 1);
    CU_ASSERT_TRUE(lowest_mm(sheet) < SHEET_PAGE_HEIGHT_MM);
    arena_destroy(work.arena);
}

static void bag_is_shortened_not_spilled(void)
{
    enum { STEPS = 150 };
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    struct pages pages = pages_create(&work, plan);
    struct plan_step *steps = arena_alloc(work.arena, STEPS, sizeof *steps);
    unsigned whole = 0;
    const struct sheet *sheet;

    for (int i = 0; i < STEPS; i++)
        steps[i] = plan->piece.steps[i % 3 + 2];
    plan->piece.steps = steps;
    plan->piece.nsteps = STEPS;
    sheet = pages_bag(&pages.page, &whole);
    CU_ASSERT_TRUE(lowest_mm(sheet) < SHEET_PAGE_HEIGHT_MM);
    CU_ASSERT_EQUAL(whole & REPORT_STEPS, 0);
    CU_ASSERT_EQUAL(count_words(sheet, "more: see the words"), 1);
    /* what is shown and what is "more" are all there is, the sewing included */
    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        if (item->kind == SHEET_WORDS && strncmp(item->words, "and ", 4) == 0) {
            int more = 0;

            for (const char *c = item->words + 4; *c >= '0' && *c <= '9'; c++)
                more = 10 * more + (*c - '0');
            CU_ASSERT_EQUAL(count_label(sheet, "tick box") / 2 + more, STEPS + 1);
        }
    arena_destroy(work.arena);
}

/* Points of what to know before casting on, up to the one that begins so; all where none does. */
static int points_before(const struct sheet *sheet, const char *words)
{
    int points = 0;

    for (const struct sheet_item *item = sheet->first; item; item = item->next) {
        if (item->kind == SHEET_WORDS && strstr(item->words, words))
            return points;
        points += item->kind == SHEET_WORDS && strcmp(item->words, "\u2022") == 0;
    }
    return points;
}

static void child_comes_first(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    struct pages pages = pages_create(&work, plan);
    unsigned whole = 0;
    const struct sheet *sheet = pages_bag(&pages.page, &whole);
    int before = points_before(sheet, "(none)");

    plan->child = true;
    sheet = pages_bag(&pages.page, &whole);
    CU_ASSERT_EQUAL(points_before(sheet, "(none)"), before + 2);
    CU_ASSERT_EQUAL(points_before(sheet, "small fingers and toes"), 1);
    CU_ASSERT_EQUAL(points_before(sheet, "cords"), 2);
    arena_destroy(work.arena);
}

/* --- lesson ---------------------------------------------------------------------------- */

static const struct sheet *lesson_sheet(struct work *work, struct plan *plan, bool answers,
                                        bool places)
{
    static struct pages pages; /* outlives the call: the lesson points to it */
    struct lesson lesson;

    pages = pages_create(work, plan);
    lesson = (struct lesson){&pages, plan->piece.bands, answers, sheet_create(work), 0,
                             SHEET_PAGE_HEIGHT_MM, SHEET_PAGE_WIDTH_MM};
    lesson_put_head(&lesson);
    if (places)
        lesson_put_places(&lesson);
    return lesson.sheet;
}

static void class_sees_no_answer(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    struct draw_style blank = {.show = DRAW_BLANK, .cell_mm = 4.5}, answers = {.cell_mm = 4.5};
    const struct sheet *sheet = draw_band(&work, plan, plan->piece.bands, &blank);

    CU_ASSERT_EQUAL(count_label(sheet, "catches of slate"), 0);
    CU_ASSERT_EQUAL(count_label(sheet, "catches of cream"), 0);
    CU_ASSERT_EQUAL(count_words(sheet, "catch"), 0);
    sheet = draw_band(&work, plan, plan->piece.bands, &answers);
    CU_ASSERT_TRUE(count_label(sheet, "catches of slate") > 0);
    sheet = lesson_sheet(&work, plan, false, false);
    CU_ASSERT_EQUAL(count_words(sheet, "longer than 8 stitches"), 1);
    CU_ASSERT_EQUAL(count_words(sheet, "10"), 1); /* to 10 cm; not the longest float */
    arena_destroy(work.arena);
}

/* By hand: 1 float of cream and 3 of slate behind 9 or more, the longest behind 9 and 10. */
static void answers_are_filled_in(void)
{
    struct work work = fixture_plan_work();
    const struct sheet *sheet = lesson_sheet(&work, fixture_ripple(&work), true, true);
    int numbers[11] = {0};

    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        if (item->kind == SHEET_WORDS && item->bold && strspn(item->words, "0123456789") == strlen(item->words))
            numbers[strlen(item->words) == 1 ? item->words[0] - '0' : 10]++;
    CU_ASSERT_EQUAL(numbers[1], 2);
    CU_ASSERT_EQUAL(numbers[3], 2);
    CU_ASSERT_EQUAL(numbers[9], 1);
    CU_ASSERT_EQUAL(numbers[10], 1);
    CU_ASSERT_EQUAL(count_words(sheet, "Round 8: catch slate behind stitch 8."), 1);
    CU_ASSERT_EQUAL(count_words(sheet, "Round 13: catch slate behind stitch 12."), 1);
    arena_destroy(work.arena);
}

static int words_in(const struct sheet *sheet, const char *words)
{
    struct text all = text_create(sheet->work->arena);

    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        if (item->kind == SHEET_WORDS)
            text_addf(&all, "%s ", item->words);
    return strstr(all.bytes, words) != NULL;
}

/* The rules the answers keep are those the class is given; a spare is only spoken of where one is. */
static void rules_are_those_of_the_answers(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    const char *beside = "best not right beside one", *spare = "keeps two from standing on each other";

    plan->piece.bands[0].spares.catches = 0;
    CU_ASSERT_TRUE(words_in(lesson_sheet(&work, plan, false, false), beside));
    CU_ASSERT_FALSE(words_in(lesson_sheet(&work, plan, false, false), spare));
    CU_ASSERT_FALSE(words_in(lesson_sheet(&work, plan, true, false), "more than the fewest"));
    plan->piece.bands[0].spares.catches = 2;
    CU_ASSERT_TRUE(words_in(lesson_sheet(&work, plan, false, false), spare));
    CU_ASSERT_TRUE(words_in(lesson_sheet(&work, plan, true, false), "more than the fewest"));
    arena_destroy(work.arena);
}

static void nothing_too_long_is_said(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    const struct sheet *sheet;

    for (int i = 0; i < 2; i++) {
        plan->piece.bands[0].colours[i].tally.over_limit = 0;
        plan->piece.bands[0].colours[i].worked.over_limit = 0;
    }
    sheet = lesson_sheet(&work, plan, false, false);
    CU_ASSERT_EQUAL(count_words(sheet, "No float of this band is too long"), 1);
    CU_ASSERT_EQUAL(count_words(sheet, "floats too long"), 0);
    arena_destroy(work.arena);
}

CU_TestInfo tests_pages[] = {
    {"words are as wide as their face has them", widths_are_those_of_the_face},
    {"lines stay within their room, and nothing is lost", lines_stay_within_their_room},
    {"words of a table keep their face in a picture for browsers", tables_keep_their_face_on_the_screen},
    {"the page for the bag has a box for each step of each piece", bag_has_a_box_for_each_piece},
    {"the page for the bag is shortened, and says by how much", bag_is_shortened_not_spilled},
    {"a child's cautions come first", child_comes_first},
    {"the class sees no answer", class_sees_no_answer},
    {"the answers are those counted by hand", answers_are_filled_in},
    {"the class is given the rules the answers keep", rules_are_those_of_the_answers},
    {"a band with no long float says so", nothing_too_long_is_said},
    CU_TEST_INFO_NULL};
