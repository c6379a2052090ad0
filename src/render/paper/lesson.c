/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The lesson sheet: for the class the chart blank with what to find and a table to fill in, for the
 * teacher the answers and the wrong side.
 */
#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "pages.h"
#include "parts.h"
#include "render/report/report.h"
#include "words/say.h"

static const double SIZE_MM = 3.5, TITLE_MM = 5.6, NAME_ROOM_MM = 62;
static const double PLACES_SIZE_MM = 3.2; /* they are many, and looked up */
enum { PLACES_MAX = 400 }; /* rows of catches put into words */

static const struct page *page_of(const struct lesson *lesson)
{
    return &lesson->pages->page;
}

static void say(struct lesson *lesson, const char *words)
{
    lesson->y_mm = type_put(lesson->sheet, page_of(lesson)->work, 0, lesson->y_mm, lesson->width_mm,
                            SIZE_MM, words);
    lesson->y_mm += 0.25 * SIZE_MM;
}

/* Rows with two ends and one repeat: there is no other repeat for a float to go on into. */
static bool is_alone(const struct plan_band *band)
{
    return band->outer && band->repeats == 1;
}

static const struct float_tally *tally_of(const struct lesson *lesson, const struct plan_colour *colour)
{
    return is_alone(lesson->band) ? &colour->worked : &colour->tally;
}

static bool any_too_long(const struct lesson *lesson)
{
    for (int i = 0; i < lesson->band->ncolours; i++)
        if (tally_of(lesson, &lesson->band->colours[i])->over_limit > 0)
            return true;
    return false;
}

static bool any_float(const struct lesson *lesson)
{
    for (int i = 0; i < lesson->band->ncolours; i++)
        if (tally_of(lesson, &lesson->band->colours[i])->floats > 0)
            return true;
    return false;
}

/* Catches beyond the fewest. */
static bool any_spare(const struct plan_band *band)
{
    bool any = band->spares.catches > 0;

    for (int yarn = 0; band->outer && yarn < GRID_YARNS_MAX; yarn++)
        any |= band->outer->spares_of[yarn] > 0;
    return any;
}

/* --- what to do ------------------------------------------------------------------------ */

static void say_task(struct lesson *lesson)
{
    const struct page *page = page_of(lesson);
    const struct plan_band *band = lesson->band;

    if (!any_float(lesson)) {
        say(lesson, "This band has no floats: every one of its rows is in one yarn.");
        return;
    }
    if (!any_too_long(lesson)) {
        say(lesson, words_format(page, "No float of this band is too long to be left loose, and none "
                                       "need be caught. Find the longest float of each yarn, and "
                                       "count the stitches it passes behind."));
        return;
    }
    say(lesson, words_format(page,
                             "Find each float longer than %s. Mark the stitch behind which you would "
                             "catch it: no piece longer than that may be left, the float is not "
                             "caught behind its first or last stitch, and no catch stands over a "
                             "catch of the %s below, and best not right beside one, a column to "
                             "either side. Fewer catches are better%s.",
                             words_count(page, band->leave_sts, "stitch", "stitches"),
                             words_round(page),
                             any_spare(band) ? ", but one more is right where it keeps two from "
                                               "standing on each other"
                                             : ""));
}

static void say_repeat(struct lesson *lesson)
{
    const struct plan_band *band = lesson->band;

    if (is_alone(band))
        say(lesson, "The chart is the whole of the row: what reaches its side ends there.");
    else if (band->outer)
        say(lesson, "Count what lies in the repeat, inside the heavy line, as if other repeats stood "
                    "on both sides of it: a float that leaves it at one side comes in again at the "
                    "other, and is counted once.");
    else
        say(lesson, "The repeat goes on round and round: a float that leaves it at one side comes in "
                    "again at the other, and is counted once.");
}

static void say_answers(struct lesson *lesson)
{
    if (!any_float(lesson))
        return;
    if (!any_too_long(lesson)) {
        say(lesson, "No float is too long: nothing need be caught.");
        return;
    }
    say(lesson, "Another answer is as good if it keeps the rules with as many catches. Where there "
                "is no place that keeps them all, a catch may have to stand over another.");
    if (any_spare(lesson->band))
        say(lesson, "Some floats have a catch more than the fewest here: that is right where it keeps "
                    "two catches from standing on each other.");
    if (lesson->band->outer && lesson->band->outer->mark && !is_alone(lesson->band))
        say(lesson, "The table counts a repeat that stands between others. The chart shows the catches "
                    "towards the edges as well: hollow ones stand only beside an edge, those with a "
                    "slit in every repeat but the one beside it.");
}

/* --- the table ------------------------------------------------------------------------- */

static const double NAME_AT = 11, FIELD = 20;
static const double FLOATS_TO = 0.53, CATCHES_TO = 0.71, LONGEST_TO = 1; /* of the width */

/* A number, or a line to write it on. */
static void put_field(struct lesson *lesson, double part, double y, int64_t number, const char *unit)
{
    const struct page *page = page_of(lesson);
    double to = part * lesson->width_mm;
    double unit_wide = *unit ? sheet_words_width_mm(unit, SIZE_MM, false) + 1.5 : 0;

    if (*unit)
        type_put_line(lesson->sheet, to, y, FIELD, SIZE_MM, SHEET_END, unit);
    if (lesson->answers)
        type_put_line(lesson->sheet, to - unit_wide, y, FIELD, SIZE_MM, SHEET_END,
                      words_grouped(page, number))->bold = true;
    else
        pages_rule(lesson->sheet, to - unit_wide - FIELD, y + 1.1 * SIZE_MM, to - unit_wide);
}

static int64_t catches_of(const struct lesson *lesson, const struct plan_colour *colour)
{
    return is_alone(lesson->band) ? lesson->band->outer->count_of[colour->yarn] : colour->catches;
}

static void put_row(struct lesson *lesson, const struct plan_colour *colour, bool too_long)
{
    const struct page *page = page_of(lesson);
    const struct plan_yarn *yarn = &page->plan->piece.yarns[colour->yarn];
    const struct float_tally *tally = tally_of(lesson, colour);
    double y = lesson->y_mm + 0.6 * SIZE_MM;

    type_put_swatch(lesson->sheet, page, yarn, 0, lesson->y_mm, 1.7 * SIZE_MM);
    type_put_line(lesson->sheet, NAME_AT, y, 60, SIZE_MM, SHEET_START, yarn->name)->bold = true;
    put_field(lesson, FLOATS_TO, y, too_long ? tally->over_limit : tally->floats, "");
    if (too_long)
        put_field(lesson, CATCHES_TO, y, catches_of(lesson, colour), "");
    put_field(lesson, LONGEST_TO, y, tally->longest_sts, tally->longest_sts == 1 && lesson->answers
                                                             ? "stitch" : "stitches");
    lesson->y_mm += 2.4 * SIZE_MM;
}

static void put_table(struct lesson *lesson)
{
    bool too_long = any_too_long(lesson);
    double size = 0.9 * SIZE_MM;

    if (!any_float(lesson))
        return;
    lesson->y_mm += 0.5 * SIZE_MM;
    type_put_line(lesson->sheet, 0, lesson->y_mm, 60, size, SHEET_START,
                  is_alone(lesson->band) ? "in the chart" : "in one repeat")->bold = true;
    type_put_line(lesson->sheet, FLOATS_TO * lesson->width_mm, lesson->y_mm, 40, size, SHEET_END,
                  too_long ? "floats too long" : "floats");
    if (too_long)
        type_put_line(lesson->sheet, CATCHES_TO * lesson->width_mm, lesson->y_mm, 30, size, SHEET_END, "catches");
    type_put_line(lesson->sheet, LONGEST_TO * lesson->width_mm, lesson->y_mm, 50, size, SHEET_END,
                  "longest float passes behind");
    lesson->y_mm += type_leading_mm(size) + 0.3 * SIZE_MM;
    for (int i = 0; i < lesson->band->ncolours; i++)
        put_row(lesson, &lesson->band->colours[i], too_long);
}

static void put_title(struct lesson *lesson)
{
    const struct page *page = page_of(lesson);
    const char *name = "Name", *what = lesson->answers ? "Floats and catches: the answers"
                                                       : "Floats: find them and catch them";

    type_put_line(lesson->sheet, 0, 0, lesson->width_mm, TITLE_MM, SHEET_START, what)->bold = true;
    if (!lesson->answers) {
        double at = lesson->width_mm - NAME_ROOM_MM;
        double from = at + sheet_words_width_mm(name, SIZE_MM, false) + 2;

        type_put_line(lesson->sheet, at, 0.4 * TITLE_MM, 20, SIZE_MM, SHEET_START, name);
        pages_rule(lesson->sheet, from, 0.4 * TITLE_MM + 1.1 * SIZE_MM, lesson->width_mm);
    }
    lesson->y_mm = 1.5 * TITLE_MM;
    say(lesson, words_format(page, "%s, band %s. Gauge: %s.", lesson->pages->title,
                             lesson->band->name, report_gauge(page)));
}

void lesson_put_head(struct lesson *lesson)
{
    put_title(lesson);
    if (any_float(lesson))
        say(lesson, report_limit(page_of(lesson), lesson->band));
    if (lesson->answers) {
        say_answers(lesson);
    } else {
        say_task(lesson);
        if (any_float(lesson))
            say_repeat(lesson);
    }
    put_table(lesson);
}

/* --- the places ------------------------------------------------------------------------ */

/* Words on the sheet, or at the top of a new one where it is full. */
static void put_flowing(struct lesson *lesson, const char *words, bool bold)
{
    struct work *work = page_of(lesson)->work;
    double after = type_put(NULL, work, 0, lesson->y_mm, lesson->width_mm, PLACES_SIZE_MM, words);
    double kept = bold ? 3 * type_leading_mm(PLACES_SIZE_MM) : 0; /* a heading keeps what follows */

    if (after + kept > lesson->high_mm) {
        lesson->sheet = sheet_create(work);
        lesson->sheet->title = lesson->pages->title;
        lesson->sheet->width_mm = lesson->width_mm = SHEET_PAGE_WIDTH_MM;
        lesson->sheet->height_mm = lesson->high_mm = SHEET_PAGE_HEIGHT_MM;
        lesson->y_mm = 0;
        pages_add(lesson->pages, lesson->sheet);
    }
    if (bold)
        type_put_line(lesson->sheet, 0, lesson->y_mm, lesson->width_mm, PLACES_SIZE_MM, SHEET_START,
                      words)->bold = true;
    after = type_put(bold ? NULL : lesson->sheet, work, 0, lesson->y_mm, lesson->width_mm,
                     PLACES_SIZE_MM, words);
    lesson->y_mm = after + 0.08 * PLACES_SIZE_MM;
}

static void put_map(struct lesson *lesson, const struct catch_map *map, const char *heading)
{
    const struct page *page = page_of(lesson);
    const char *row = say_rounds(page->plan->round)->One;
    int rows, put = 0;

    if (!map || !map->mark || map->count == 0)
        return;
    rows = report_rows_caught(map);
    lesson->y_mm += 0.8 * SIZE_MM;
    put_flowing(lesson, heading, true);
    for (int64_t i = 0, end; i < map->count && put < PLACES_MAX; i = end, put++) {
        end = report_row_end(map, i);
        put_flowing(lesson,
                    words_format(page, "%s %d: catch %s.", row, map->mark[i].row + 1,
                                 report_row_catches(page, map->mark + i, end - i, true)),
                    false);
    }
    if (rows > put)
        put_flowing(lesson, words_format(page, "and %s more: the chart shows them.",
                                         words_rounds(page, rows - put)), false);
}

void lesson_put_places(struct lesson *lesson)
{
    struct catch_map inner = report_standing_catches(page_of(lesson), lesson->band);

    bool between = lesson->band->outer && !is_alone(lesson->band);

    put_map(lesson, &inner,
            between ? "Where, in a repeat that stands between others; its stitches counted from the "
                      "right:"
                    : "Where, in each repeat; its stitches counted from the right:");
    put_map(lesson, lesson->band->outer,
            "And towards the edges; stitches of the whole row, from the right:");
}

/* Room all the places take. */
static double places_mm(const struct lesson *lesson)
{
    struct pages aside = {.page = lesson->pages->page, .title = ""};
    struct lesson measure = {&aside, lesson->band, true, sheet_create(lesson->sheet->work), 0,
                             HUGE_VAL, lesson->width_mm};

    lesson_put_places(&measure);
    return measure.y_mm;
}

/* --- the sheets ------------------------------------------------------------------------ */

static struct draw_style style_of(const struct lesson *lesson)
{
    return (struct draw_style){.show = lesson->answers ? DRAW_CATCHES : DRAW_BLANK};
}

/* Words in lines of that width, and the chart that has room below them, with the places below it where
 * all of them have; NULL: none has. */
static struct sheet *lay_out(struct lesson *lesson, double width_mm)
{
    const struct page *page = page_of(lesson);
    struct sheet *chart = NULL;

    lesson->width_mm = width_mm;
    lesson->y_mm = 0;
    lesson->sheet = sheet_create(page->work);
    lesson->sheet->title = lesson->pages->title;
    lesson_put_head(lesson);
    if (lesson->answers)
        chart = pages_draw_below(page, lesson->band, style_of(lesson), lesson->y_mm + places_mm(lesson));
    return chart ? chart : pages_draw_below(page, lesson->band, style_of(lesson), lesson->y_mm);
}

static bool is_upright(const struct lesson *lesson, const struct sheet *chart)
{
    return sheet_way_on_page(chart->width_mm, lesson->y_mm + PAGES_GAP_MM + chart->height_mm) ==
           PAGE_UPRIGHT;
}

/* The head with the chart below it, or the chart on pages of its own. */
static void add_page(struct pages *pages, const struct plan_band *band, bool answers)
{
    struct lesson lesson = {.pages = pages, .band = band, .answers = answers};
    struct sheet *chart = lay_out(&lesson, SHEET_PAGE_WIDTH_MM);

    if (chart && !is_upright(&lesson, chart))
        chart = lay_out(&lesson, SHEET_LONG_WIDTH_MM);
    lesson.sheet->width_mm = fmax(lesson.width_mm, chart ? chart->width_mm : 0);
    lesson.sheet->height_mm = lesson.y_mm + (chart ? PAGES_GAP_MM + chart->height_mm : 0);
    if (chart)
        sheet_put(lesson.sheet, chart, 0, lesson.y_mm + PAGES_GAP_MM);
    lesson.y_mm = lesson.sheet->height_mm;
    pages_fill(lesson.sheet);
    lesson.high_mm = lesson.sheet->height_mm;
    pages_add(pages, lesson.sheet);
    if (!chart) {
        pages_add(pages, pages_draw(&pages->page, band, style_of(&lesson)));
        pages_fill(pages->sheet[pages->count - 1]);
        lesson.y_mm = lesson.high_mm; /* no more words on the page before it */
    }
    if (answers)
        lesson_put_places(&lesson);
}

static void add_wrong_side(struct pages *pages, const struct plan_band *band)
{
    struct draw_style style = {.wrong_side = true};
    struct sheet *sheet = pages_draw(&pages->page, band, style);

    pages_fill(sheet);
    pages_add(pages, sheet);
}

struct sheets pages_lesson(struct work *work, const struct plan *plan, const struct plan_band *const *bands,
                           int nbands)
{
    struct pages pages = pages_create(work, plan);

    for (int i = 0; i < nbands; i++)
        add_page(&pages, bands[i], false);
    for (int i = 0; i < nbands; i++)
        add_page(&pages, bands[i], true);
    for (int i = 0; i < nbands; i++)
        add_wrong_side(&pages, bands[i]);
    return (struct sheets){pages.sheet, (int)pages.count, arena_printf(work->arena, "%s: a lesson", pages.title),
                           true};
}
