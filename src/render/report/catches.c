/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long the floats are, as a small picture, and where they are caught.
 */
#include <inttypes.h>
#include <string.h>

#include "base/arena.h"
#include "plan/catches/strands.h"
#include "report.h"

/* --- lengths ------------------------------------------------------------------------ */

enum { LINES_MAX = 16, BAR_MAX = 30, COLOURS_MAX = 3, COUNT_WIDE = 9 };

/* Length, how many in each colour, a bar. */
static const struct page_column length_columns[] = {RIGHT(15), RIGHT(24), RIGHT(33), RIGHT(42), LEFT(44)};
enum { LENGTH, COUNT, BAR = COUNT + COLOURS_MAX, COLUMNS };

static int64_t floats_of_length(const struct plan_band *band, int length)
{
    int64_t sum = 0;

    for (int i = 0; i < band->ncolours; i++)
        if (length <= band->colours[i].lengths_limit && band->colours[i].lengths)
            sum += band->colours[i].lengths[length];
    return sum;
}

/* Lengths that occur; lengths: room for one of each. */
static int list_lengths(const struct plan_band *band, int *lengths, int64_t *most)
{
    int n = 0;

    for (int length = 1; length <= band->worked_longest_sts; length++) {
        int64_t floats = floats_of_length(band, length);

        if (floats > *most)
            *most = floats;
        if (floats > 0)
            lengths[n++] = length;
    }
    return n;
}

static void put_length(const struct page *page, const struct plan_band *band, int length,
                       int64_t most)
{
    const char *cells[COLUMNS] = {words_grouped(page, length), "", "", "", ""};
    int64_t floats = floats_of_length(band, length);
    struct text bar = text_create(page->work->arena);
    int64_t marks = most <= BAR_MAX ? floats : (floats * BAR_MAX + most - 1) / most;

    text_repeat(&bar, length > band->leave_sts ? '#' : '=', (int)marks);
    for (int i = 0; i < band->ncolours && i < COLOURS_MAX; i++) {
        const struct plan_colour *colour = &band->colours[i];
        int64_t count = colour->lengths && length <= colour->lengths_limit ? colour->lengths[length] : 0;

        cells[COUNT + i] = count > 0 ? words_grouped(page, count) : ".";
    }
    cells[BAR] = bar.bytes;
    page_cells(page, length_columns, cells, COLUMNS);
}

void report_histogram(const struct page *page, const struct plan_band *band)
{
    const char *cells[COLUMNS] = {"stitches", "", "", "", ""};
    int *lengths = arena_alloc(page->work->arena, (size_t)band->worked_longest_sts + 1, sizeof *lengths);
    int64_t most = 0;
    int n = list_lengths(band, lengths, &most);

    if (n < 3 || n > LINES_MAX || band->ncolours > COLOURS_MAX)
        return;
    page_gap(page);
    for (int i = 0; i < band->ncolours; i++)
        cells[COUNT + i] = words_clip(page, words_yarn(page, band->colours[i].yarn), COUNT_WIDE - 1);
    cells[BAR] = band->worked_over_limit > 0 ? "floats (= loose, # caught)" : "floats";
    page_cells(page, length_columns, cells, COLUMNS);
    for (int i = 0; i < n; i++)
        put_length(page, band, lengths[i], most);
}

/* --- places ------------------------------------------------------------------------- */

enum { PLACES_MAX = 24, MARKS_MAX = 150, PLACE_AT = 17 };

/* "slate behind 5 and 8" for the marks of one row and strand, from marks[0]; spelled: "slate behind
 * stitches 5 and 8". */
static const char *strand_words(const struct page *page, const struct catch_mark *marks,
                                int64_t nmarks, bool spelled)
{
    int *columns = arena_alloc(page->work->arena, (size_t)nmarks, sizeof *columns);
    int n = 0;

    for (int64_t i = 0; i < nmarks; i++)
        if (marks[i].strand == marks[0].strand)
            columns[n++] = marks[i].column + 1;
    return words_format(page, "%s behind" WORDS_TIE "%s%s", words_yarn(page, marks[0].strand),
                        !spelled ? "" : n == 1 ? "stitch" WORDS_TIE : "stitches" WORDS_TIE,
                        words_numbers(page, columns, n));
}

static bool said_before(const struct catch_mark *marks, int64_t i)
{
    for (int64_t k = 0; k < i; k++)
        if (marks[k].strand == marks[i].strand)
            return true;
    return false;
}

const char *report_row_catches(const struct page *page, const struct catch_mark *marks,
                               int64_t nmarks, bool spelled)
{
    struct text text = text_create(page->work->arena);

    for (int64_t i = 0; i < nmarks; i++)
        if (!said_before(marks, i))
            text_addf(&text, "%s%s", text.length > 0 ? "; " : "",
                      strand_words(page, marks + i, nmarks - i, spelled));
    return text.bytes;
}

int64_t report_row_end(const struct catch_map *map, int64_t i)
{
    int64_t end = i;

    while (end < map->count && map->mark[end].row == map->mark[i].row)
        end++;
    return end;
}

static void put_row(const struct page *page, int row, const char *words)
{
    text_addf(page->out, "%*s %3d  ", PLACE_AT - 6, words_round(page), row + 1);
    page_wrap(page, words, PLACE_AT, PLACE_AT);
    text_add(page->out, "\n");
}

int report_rows_caught(const struct catch_map *map)
{
    int rows = 0;

    for (int64_t i = 0; i < map->count; i = report_row_end(map, i))
        rows++;
    return rows;
}

/* Which part of a whole row: 0 the right side stitches, then the repeats, then the left ones. */
static int segment_of(const struct plan_band *band, int column)
{
    int from = column - band->right.ncols;

    if (from < 0)
        return 0;
    from /= band->drawn.ncols;
    return from < band->repeats ? from + 1 : band->repeats + 1;
}

/* "repeat 3: 5 and 9", of one strand of one row. */
static void add_segment(const struct page *page, const struct plan_band *band, struct text *text,
                        int segment, const int *columns, int n)
{
    int first = segment == 0 ? 0 : band->right.ncols + (segment - 1) * band->drawn.ncols;
    int *numbers = arena_alloc(page->work->arena, (size_t)n, sizeof *numbers);
    const char *name = words_format(page, "repeat" WORDS_TIE "%d", segment);

    if (segment == 0)
        name = "right side stitches";
    else if (segment == band->repeats + 1)
        name = "left side stitches";
    else if (band->repeats == 1)
        name = "the repeat";
    for (int i = 0; i < n; i++)
        numbers[i] = columns[i] - first + 1;
    text_addf(text, "%s of %s", words_numbers(page, numbers, n), name);
}

static const char *edge_strand_words(const struct page *page, const struct plan_band *band,
                                     const struct catch_mark *marks, int64_t nmarks)
{
    struct text text = text_create(page->work->arena);
    int *columns = arena_alloc(page->work->arena, (size_t)nmarks, sizeof *columns);
    int n = 0, segment = -1;
    bool any = false;

    text_addf(&text, "%s behind" WORDS_TIE, words_yarn(page, marks[0].strand));
    for (int64_t i = 0; i <= nmarks; i++) {
        int next = i < nmarks ? segment_of(band, marks[i].column) : -1;

        if (i < nmarks && marks[i].strand != marks[0].strand)
            continue;
        if (n > 0 && next != segment) {
            text_add(&text, any ? ", " : "");
            add_segment(page, band, &text, segment, columns, n);
            any = true;
            n = 0;
        }
        segment = next;
        if (i < nmarks)
            columns[n++] = marks[i].column;
    }
    return text.bytes;
}

/* The same of catches beside the edges: by repeat and side stitches. */
static const char *edge_row_words(const struct page *page, const struct plan_band *band,
                                  const struct catch_mark *marks, int64_t nmarks)
{
    struct text text = text_create(page->work->arena);

    for (int64_t i = 0; i < nmarks; i++)
        if (!said_before(marks, i))
            text_addf(&text, "%s%s", text.length > 0 ? "; " : "",
                      edge_strand_words(page, band, marks + i, nmarks - i));
    return text.bytes;
}

static void put_map(const struct page *page, const struct plan_band *band, const struct catch_map *map,
                    const char *heading)
{
    int rows, put = 0;

    if (!map || !map->mark || map->count == 0)
        return;
    rows = report_rows_caught(map);
    page_gap(page);
    page_say(page, 4, heading);
    for (int64_t i = 0, end; i < map->count && i < MARKS_MAX && put < PLACES_MAX; i = end, put++) {
        end = report_row_end(map, i);
        put_row(page, map->mark[i].row,
                map == band->outer ? edge_row_words(page, band, map->mark + i, end - i)
                                   : report_row_catches(page, map->mark + i, end - i, false));
    }
    if (rows > put)
        page_sayf(page, 4, "and %s more: the words for each %s have them all.",
                  words_rounds(page, rows - put), words_round(page));
}

struct catch_map report_standing_catches(const struct page *page, const struct plan_band *band)
{
    struct catch_mark *marks = arena_alloc(page->work->arena, (size_t)band->catches->count + 1,
                                           sizeof *marks);
    struct catch_map map = {.mark = marks};

    for (int64_t i = 0; i < band->catches->count; i++)
        if (plan_catch_copies(band, &band->catches->mark[i]) > 0)
            marks[map.count++] = band->catches->mark[i];
    return map;
}

void report_catch_places(const struct page *page, const struct plan_band *band)
{
    struct catch_map standing = report_standing_catches(page, band);

    put_map(page, band, &standing,
            band->outer && band->repeats > 1
                ? "where, in each repeat that has the whole of its float; columns of the chart, from the "
                  "right:"
                : "where, in each repeat; columns of the chart, from the right:");
    put_map(page, band, band->outer,
            band->repeats > 1 ? "and beside the edges, instead of those; repeats counted from the right:"
                              : "and towards the edges:");
}

void report_crowding(const struct page *page, const struct plan_band *band)
{
    if (band->dents.notable)
        page_sayf(page, 4, "Closest together: %s", words_crowding(page, band));
}
