/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the knitter reads: the facts, their units, the order, and silence about what does not
 * apply. The figures are those of a plan made by hand.
 */
#include <CUnit/Basic.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "fixture_plan.h"
#include "render/render.h"
#include "words/words.h"

static const struct words_style plain = {.width = 80};
static const struct words_style pretty = {.width = 80, .utf8 = true};

static const char *report_of(struct work *work, const struct plan *plan)
{
    struct text text = text_create(work->arena);

    render_report(work, plan, &plain, &text);
    return text.bytes;
}

static const char *directions_of(struct work *work, const struct plan *plan)
{
    struct text text = text_create(work->arena);

    render_directions(work, plan, &plain, &text);
    return text.bytes;
}

/* One blank for every stretch of white space: where a line is broken is not the fact tested. */
static const char *unfold(struct work *work, const char *words)
{
    char *out = arena_alloc(work->arena, strlen(words) + 1, 1), *to = out;

    for (const char *c = words; *c; c++) {
        char shown = *c == '\n' ? ' ' : *c;

        if (shown == ' ' && to > out && to[-1] == ' ')
            continue;
        *to++ = shown;
    }
    return out;
}

static void check_says(const char *words, const char *fact)
{
    CU_ASSERT_PTR_NOT_NULL(strstr(words, fact));
    if (!strstr(words, fact))
        printf("  not said: %s\n", fact);
}

static void check_silent(const char *words, const char *fact)
{
    CU_ASSERT_PTR_NULL(strstr(words, fact));
    if (strstr(words, fact))
        printf("  said: %s\n", fact);
}

static void check_width(const char *words)
{
    int column = 0, widest = 0;

    for (const char *c = words; *c; c++) {
        column = *c == '\n' ? 0 : column + (((unsigned char)*c & 0xC0) != 0x80);
        widest = column > widest ? column : widest;
    }
    CU_ASSERT_TRUE(widest <= 80);
}

/* --- the whole report --------------------------------------------------------------- */

static void order_of_sections(void)
{
    static const char *const headings[] = {
        "Tide-line sock tops", "\nBEFORE YOU CAST ON", "\nBUY", "\nCAST ON AND SHAPE",
        "\nCOUNTS NEAR YOUR MEASURE", "\nBAND ripple", "\nFLOATS AND CATCHES", "\nCOLOURS WAITING",
        "\nTHE ROUNDS IN WORDS", "\nYARN, WHERE IT GOES", "\nWHAT IF", "\nCAUTIONS",
        "\nWHAT THE NUMBERS STAND ON"};
    struct work work = fixture_plan_work();
    const char *at = report_of(&work, fixture_ripple(&work));

    for (size_t i = 0; i < sizeof headings / sizeof *headings; i++) {
        const char *found = at ? strstr(at, headings[i]) : NULL;

        CU_ASSERT_PTR_NOT_NULL(found);
        if (!found)
            printf("  missing or out of order: %s\n", headings[i]);
        at = found ? found + strlen(headings[i]) : at;
    }
    arena_destroy(work.arena);
}

/* By hand: 84 / 8 = 10 1/2 in = 26.67 cm; 14 / 9.5 = 1.47 in = 3.74 cm; 10 / 8 = 1 1/4 in = 3.175
 * cm; 322 yd = 294 m; 28 catches a sock, 56 the pair; 84 / 8 on 10 1/4 is +2.4 %. */
static void facts(void)
{
    struct work work = fixture_plan_work();
    const char *words = unfold(&work, report_of(&work, fixture_ripple(&work)));

    check_says(words, "8 stitches and 9.5 rounds to the inch (31.5 and 37.4 to 10 cm)");
    check_says(words, "It comes out 10 1/2 in (26.7 cm) round");
    check_says(words, "28 catches in each piece, 56 in all.");
    check_says(words, "behind 10 stitches, 1 1/4 in (3.2 cm).");
    check_says(words, "cream 322 yd (294 m) 354 yd (324 m) 2 x 50 g 106 yd (97 m)");
    check_says(words, "slate: a leftover of 4.2 g will do.");
    check_says(words, "Cast on 72 in cream, long-tail; leave");
    check_says(words, "k3, m1, (k6,");
    check_says(words, "(72 + 12 = 84)");
    check_says(words, "(84 - 12 = 72)");
    check_says(words, "> 84 10 1/2 in (26.7 cm) +2.4 % ripple, rib");
    check_says(words, "7 repeats of 12 = 84 stitches");
    check_says(words, "10 1/2 in (26.7 cm) round, 1 1/2 in (3.7 cm) tall");
    check_says(words, "which would be 83.64 stitches exactly");
    check_says(words, "one behind 8 stitches or fewer");
    check_says(words, "slate 67 23 3 10 stitches, 1 1/4 in (3.2 cm)");
    check_says(words, "together 4 28 56");
    check_says(words, "round 9 slate behind 10 ");
    check_says(words, "coral over cream in column 7");
    arena_destroy(work.arena);
}

/* Worked by hand for the craft notes: 48 catches and 2 in at 5 to the inch; steps at 9 and 8. */
static void what_if(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    const char *words;

    plan->tries[0].verdict = VERDICT_LONGER;
    words = unfold(&work, report_of(&work, plan));
    check_says(words, "thicker 5 4 9 5/8 in (24.4 cm) 2 in (5.1 cm) 48");
    check_says(words, "48 catches in place of 28");
    check_says(words, "At 9 stitches to the inch (35.43 to 10 cm) or more it takes 1.");
    check_says(words, "Under 8 stitches to the inch (31.5 to 10 cm) it takes 6.");
    arena_destroy(work.arena);
}

static void narrow_and_plain(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    struct text text = text_create(work.arena);
    const char *words = report_of(&work, plan);

    check_width(words);
    for (const char *c = words; *c; c++)
        if ((unsigned char)*c >= 0x7F || ((unsigned char)*c < 0x20 && *c != '\n'))
            CU_FAIL("a character beyond plain ASCII");
    render_report(&work, plan, &pretty, &text);
    check_width(text.bytes);
    check_says(text.bytes, "10\u00BD in (26.7 cm)");
    check_silent(text.bytes, "1/2 in");
    plan->cm_first = true;
    check_width(report_of(&work, plan));
    arena_destroy(work.arena);
}

static void centimetres_first(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    const char *words;

    plan->cm_first = true;
    plan->piece.bands[0].nremedies = 0; /* their sentences come ready made */
    words = unfold(&work, report_of(&work, plan));
    check_says(words, "It comes out 26.7 cm (10 1/2 in) round");
    check_says(words, "31.5 stitches and 37.4 rounds to 10 cm (8 and 9.5 to the inch)");
    check_says(words, "cream 294 m (322 yd)");
    check_silent(words, " in (");
    check_silent(words, "yd (");
    arena_destroy(work.arena);
}

/* Ways round: pressed on her only where the measure lies beyond what her gauge leaves open. */
static void ways_round(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    struct plan_band *band = plan->piece.bands;
    const char *words = unfold(&work, report_of(&work, plan));

    check_says(words, "like this: remedy = another count, 6 repeats.");
    check_says(words, "another gauge, 7 repeats: 84 stitches, 10 1/2 in (26.6 cm), on a new swatch.");
    check_silent(words, "nothing need be done");
    check_silent(words, "more; strandwise");
    band->repeats_given = true;
    band->repeats = 9;
    words = unfold(&work, report_of(&work, plan));
    check_says(words, "instead of repeats = 9");
    check_says(words, "take repeats = 9 out of [band");
    band->within_gauge = true;
    words = unfold(&work, report_of(&work, plan));
    check_says(words, "Within what your gauge is known to: nothing need be done.");
    check_silent(words, "like this: remedy");
    band->count_as_below = true;
    words = unfold(&work, report_of(&work, plan));
    check_says(words, "Its count is that of the part below");
    check_silent(words, "another gauge, 7 repeats");
    plan->piece.gauge.wanted = true;
    check_says(unfold(&work, report_of(&work, plan)), "stranded: wanted, not yet swatched");
    arena_destroy(work.arena);
}

/* Every length in one unit is followed by the other: inches by cm or mm, yards by m. */
static void both_units(void)
{
    static const char *const first[] = {" in (", " yd ("}, *const second[] = {"m)", " m)"};
    struct work work = fixture_plan_work();
    const char *words = report_of(&work, fixture_ripple(&work));

    for (int u = 0; u < 2; u++) {
        int pairs = 0;

        for (const char *c = strstr(words, first[u]); c; c = strstr(c + 1, first[u]), pairs++) {
            const char *end = strchr(c, ')');

            CU_ASSERT_PTR_NOT_NULL_FATAL(end);
            CU_ASSERT_EQUAL(
                strncmp(end + 1 - strlen(second[u]), second[u], strlen(second[u])), 0);
        }
        CU_ASSERT_TRUE(pairs > 5);
    }
    arena_destroy(work.arena);
}

static void quiet_about_the_rest(void)
{
    static const char *const rows[] = {"..x", NULL};
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_plan(&work, rows, 9, true);
    const char *words;

    plan->piece.nyarns = 2; /* nothing is sewn on */
    words = report_of(&work, plan);
    check_silent(words, "BUY\n\n");
    check_silent(words, "COUNTS NEAR");
    check_silent(words, "COLOURS WAITING");
    check_silent(words, "WHAT IF");
    check_silent(words, "WHAT THE NUMBERS");
    check_silent(words, "FLOATS");
    check_silent(words, "duplicate stitch");
    check_silent(words, "steek");
    check_silent(words, "child");
    check_silent(words, "\n\n\n");
    words = report_of(&work, fixture_ripple(&work));
    check_silent(words, "steek");
    check_silent(words, "small fingers");
    check_silent(words, "bind-off   ");
    arena_destroy(work.arena);
}

static void child_and_steek(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    const char *words, *head, *size;

    plan->child = plan->child_limit_longer = true;
    plan->piece.cast_on.steek_sts = 7;
    words = unfold(&work, report_of(&work, plan));
    head = strstr(words, "This is for a child");
    size = strstr(words, "It comes out");
    CU_ASSERT_PTR_NOT_NULL_FATAL(head);
    CU_ASSERT_PTR_NOT_NULL_FATAL(size);
    CU_ASSERT_TRUE(head < size);
    check_says(words, "No cords or ties at the neck");
    check_says(words, "Cut a steek only after it is reinforced");
    check_says(words, "Of these 7 steek stitches");
    check_says(words, "your local safety rules");
    arena_destroy(work.arena);
}

static void large_chart_points_on(void)
{
    static char row[402];
    const char *rows[2] = {row, NULL};
    struct work work = fixture_plan_work();
    struct plan *plan;
    const char *words;

    memset(row, '.', 401);
    row[9] = 'x';
    plan = fixture_plan(&work, rows, 2, true);
    words = unfold(&work, report_of(&work, plan));
    check_says(words, "strandwise directions ripple.ini");
    check_silent(words, "Round 1");
    check_says(unfold(&work, directions_of(&work, plan)), "Round 1 (cream, slate)");
    arena_destroy(work.arena);
}

/* --- directions --------------------------------------------------------------------- */

/* Worked by hand: rounds 8 and 9 as in the craft notes. */
static void rounds_in_words(void)
{
    struct work work = fixture_plan_work();
    const char *words = directions_of(&work, fixture_ripple(&work));

    check_width(words);
    words = unfold(&work, words);
    check_says(words, "Round 1: knit all cream (84).");
    check_says(words, "Round 2 (cream, slate): *1 cream, 1 slate; from * 42 times in all (84).");
    check_says(words, "Round 8 (slate, cream): *3 slate, 9 cream catching slate behind the 5th; "
                      "from * 7 times in all (84).");
    check_says(words, "Round 9 (cream, slate): *1 cream, 2 slate, 9 cream catching slate behind "
                      "the 7th; from * 7 times in all (84; 10 cream at each join).");
    check_says(words, "Let the pattern yarn (slate) lie underneath");
    check_says(words, "After washing, duplicate stitch, in each of the 7 repeats");
    check_says(words, "round 7: coral over cream in column 7");
    arena_destroy(work.arena);
}

static void alike_rounds_once(void)
{
    static const char *const rows[] = {"..", "x.", "x.", "x.", "..", NULL};
    struct work work = fixture_plan_work();
    const char *words = unfold(&work, directions_of(&work, fixture_plan(&work, rows, 5, true)));

    check_says(words, "Rounds 2-4 (cream, slate): *1 cream, 1 slate; from * 5 times in all (10).");
    check_says(words, "Round 5: knit all cream (10).");
    check_silent(words, "Round 3");
    arena_destroy(work.arena);
}

/* By hand: row 1 of 3 is purled the second time, and read from the left. */
static void flat_rows_of_odd_height(void)
{
    static const char *const rows[] = {"....", "xx..", "...x", NULL};
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_plan(&work, rows, 3, false);
    const char *words;

    plan->piece.bands[0].upwards = 3;
    words = directions_of(&work, plan);
    check_width(words);
    words = unfold(&work, words);
    check_says(words, "Work rows 1-3 3 times, one above the other.");
    check_says(words, "The 1st and 3rd time up the chart: Row 1 (right side, knit; slate, cream): "
                      "*1 slate, 3 cream; from * 3 times in all (12).");
    check_says(words, "Row 2 (wrong side, purl; slate, cream): *2 slate, 2 cream; from * 3 times");
    check_says(words, "Row 3 (right side): knit all cream (12).");
    check_says(words, "The 2nd time up the chart: Row 1 (wrong side, purl; cream, slate): *3 cream, "
                      "1 slate; from * 3 times");
    check_says(words, "Row 3 (wrong side): purl all cream (12).");
    arena_destroy(work.arena);
}

static void several_catches_in_a_run(void)
{
    static const char *const rows[] = {"x...............", NULL};
    static const struct fixture_catch catches[] = {
        {1, 4, FIXTURE_SLATE}, {1, 4, FIXTURE_CORAL}, {1, 8, FIXTURE_SLATE}, {1, 12, FIXTURE_SLATE}};
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_plan(&work, rows, 2, true);

    plan->piece.bands[0].catches = fixture_catches(&work, catches, 4);
    check_says(unfold(&work, directions_of(&work, plan)),
               "*15 cream catching slate behind the 4th, 8th and 12th and coral behind the 4th, "
               "1 slate; from * twice in all (32).");
    arena_destroy(work.arena);
}

/* --- words -------------------------------------------------------------------------- */

static void small_words(void)
{
    static const int numbers[] = {1, 2, 3, 5, 8, 9};
    struct work work = fixture_plan_work();
    const struct page page = {&work, fixture_ripple(&work), &plain, NULL};

    CU_ASSERT_STRING_EQUAL(words_ordinal(&page, 1), "1st");
    CU_ASSERT_STRING_EQUAL(words_ordinal(&page, 12), "12th");
    CU_ASSERT_STRING_EQUAL(words_ordinal(&page, 23), "23rd");
    CU_ASSERT_STRING_EQUAL(words_ordinal(&page, 112), "112th");
    CU_ASSERT_STRING_EQUAL(words_times(&page, 1), "once");
    CU_ASSERT_STRING_EQUAL(words_times(&page, 2), "twice");
    CU_ASSERT_STRING_EQUAL(words_times(&page, 3), "3" WORDS_TIE "times");
    CU_ASSERT_STRING_EQUAL(words_numbers(&page, numbers, 6), "1-3, 5, 8 and 9");
    CU_ASSERT_STRING_EQUAL(words_clip(&page, "heather grey", 8), "heather.");
    CU_ASSERT_STRING_EQUAL(words_signed_percent(&page, 0.0237), "+2.4" WORDS_TIE "%");
    CU_ASSERT_STRING_EQUAL(words_signed_percent(&page, 0.0), "0" WORDS_TIE "%");
    CU_ASSERT_STRING_EQUAL(words_set(&page, "10 1/2 in tall"),
                           "10" WORDS_TIE "1/2" WORDS_TIE "in tall");
    arena_destroy(work.arena);
}

/* Two stitches to change, in the words of a knitter. Figures by hand: 2 catches a repeat, 7 repeats, a pair. */
static void stitches_to_change(void)
{
    static const struct recolour_cell cells[] = {{8, 4, FIXTURE_CREAM, FIXTURE_SLATE},
                                                      {8, 8, FIXTURE_CREAM, FIXTURE_SLATE},
                                                      {10, 8, FIXTURE_CREAM, FIXTURE_SLATE}};
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_ripple(&work);
    struct plan_recolours *found = &plan->piece.bands[0].recolours;
    const char *words;

    check_says(unfold(&work, report_of(&work, plan)), "No stitch was found that, changed with its partners, saves a catch.");
    found->too_large = true;
    check_says(report_of(&work, plan), "This band is too large to be searched.");
    check_silent(report_of(&work, plan), "No stitch was found");
    found->too_large = false;
    plan->piece.bands[0].worked_fewest = 0;
    check_silent(report_of(&work, plan), "STITCHES YOU COULD CHANGE");
    plan->piece.bands[0].worked_fewest = 2;
    found->pair_certain = true;
    found->nones = 2;
    found->one[0] = (struct plan_recolour){.cells = cells, .ncells = 2, .saved_repeat = 2,
                                           .saved_piece = 14, .saved_all = 28, .behind_sts = 1};
    found->one[1] = (struct plan_recolour){.cells = cells + 1, .ncells = 2, .saved_repeat = 1,
                                           .saved_piece = 7, .saved_all = 14, .behind_sts = 5};
    words = unfold(&work, report_of(&work, plan));
    check_says(words, "STITCHES YOU COULD CHANGE");
    check_says(words, "Round 9: make the 5th stitch of each repeat slate (and its partner, the 9th): "
                      "2 stitches changed a repeat, 14 catches fewer in each piece, 28 in both pieces.");
    check_says(words, "Round 9: make the 9th stitch of each repeat slate (and its partner, the 9th of "
                      "round 11): 2 stitches changed a repeat, 7 catches fewer in each piece, 14 in both "
                      "pieces. cream then floats behind 5 stitches there.");
    check_silent(words, "Both:");
    found->has_pair = true;
    found->pair = (struct plan_recolour){.cells = cells, .ncells = 3, .saved_piece = 21, .saved_all = 42};
    found->pair_of[0] = found->pair_of[1] = -1;
    check_says(unfold(&work, report_of(&work, plan)),
               "Most of two: round 9 the 5th, 9th in slate; round 11 the 9th in slate: 3 stitches changed a "
               "repeat, 21 catches fewer in each piece, 42 in both pieces.");
    found->pair_of[0] = 0;
    found->pair_of[1] = 1;
    check_says(unfold(&work, report_of(&work, plan)), "Both: 3 stitches changed a repeat, 21 catches");
    arena_destroy(work.arena);
}

CU_TestInfo tests_report[] = {
    {"the sections, in the order of work", order_of_sections},
    {"sizes, yarn, counts and catches as worked by hand", facts},
    {"another gauge, and the gauge at which catches change", what_if},
    {"80 columns; plain characters unless better ones may be used", narrow_and_plain},
    {"centimetres first where she measures so", centimetres_first},
    {"ways round, where they are wanted", ways_round},
    {"every length in both units", both_units},
    {"silent about what does not apply", quiet_about_the_rest},
    {"a child's thing and a steek have their cautions", child_and_steek},
    {"a large chart points to the directions", large_chart_points_on},
    {"rounds in words, as worked by hand", rounds_in_words},
    {"rounds alike are given once", alike_rounds_once},
    {"flat rows of an odd chart, both times", flat_rows_of_odd_height},
    {"several catches in one run", several_catches_in_a_run},
    {"ordinals, lists, percentages", small_words},
    {"stitches to change", stitches_to_change},
    CU_TEST_INFO_NULL,
};
