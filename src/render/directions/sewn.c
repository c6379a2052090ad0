/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Yarns sewn on after washing: which stitches, row by row.
 */
#include <string.h>

#include "base/arena.h"
#include "directions.h"

struct sewn { /* words waiting, in case the next row's are the same */
    int from, to;
    const char *words;
};

/* "coral over cream in column 7" for one yarn in one row of a grid; columns: room for its. */
static int find_columns(const struct grid *drawn, const struct grid *knitted, int row, int yarn,
                        int *columns)
{
    int count = 0;

    for (int c = 0; c < drawn->ncols; c++)
        if (grid_at(drawn, row, c) == yarn &&
            grid_at(knitted, row, c) != yarn)
            columns[count++] = c + 1;
    return count;
}

/* One part of the row: the repeat, or the side stitches at the right or left. */
static void word_part(const struct page *page, const struct grid *drawn,
                      const struct grid *knitted, int row, const char *where, struct text *text)
{
    const struct plan_piece *piece = &page->plan->piece;
    int *columns;

    if (drawn->ncols == 0)
        return;
    columns = arena_alloc(page->work->arena, (size_t)drawn->ncols, sizeof *columns);
    for (int yarn = 0; yarn < piece->nyarns; yarn++) {
        int count = piece->yarns[yarn].over < 0
                        ? 0
                        : find_columns(drawn, knitted, row, yarn, columns);

        if (count == 0)
            continue;
        text_add(text, text->length > 0 ? "; " : "");
        text_addf(text, "%s over %s in %s%s %s", piece->yarns[yarn].name,
                  words_yarn(page, piece->yarns[yarn].over), where,
                  count == 1 ? "column" : "columns", words_numbers(page, columns, count));
    }
}

static const char *word_row(const struct page *page, const struct plan_band *band, int row)
{
    struct text text;

    if (memcmp(band->drawn.cell + (size_t)row * (size_t)band->drawn.ncols,
               band->knitted.cell + (size_t)row * (size_t)band->knitted.ncols,
               (size_t)band->drawn.ncols) == 0 &&
        band->left.ncols + band->right.ncols == 0)
        return "";
    text = text_create(page->work->arena);
    word_part(page, &band->right, &band->right_knitted, row, "right side ", &text);
    word_part(page, &band->drawn, &band->knitted, row, "", &text);
    word_part(page, &band->left, &band->left_knitted, row, "left side ", &text);
    return text.bytes;
}

static void put_sewn(const struct page *page, const struct sewn *sewn)
{
    enum { LINES_AT = 4 };
    const char *rounds = words_format(page, "%s%s %s:", words_round(page),
                                      sewn->from == sewn->to ? "" : "s",
                                      words_range(page, sewn->from + 1, sewn->to + 1));

    page_item(page, LINES_AT, rounds, sewn->words);
}

static void head_sewn(const struct page *page, const struct plan_band *band)
{
    const char *where = band->repeats == 1 && band->upwards == 1
                            ? ""
                            : words_format(page, ", in each of the %d repeats%s", band->repeats,
                                           band->upwards > 1 ? ", each time up the chart" : "");

    page_sayf(page, 2, "After washing, duplicate stitch%s (columns of the repeat count from the right):", where);
}

int directions_add_sewn(const struct page *page, const struct plan_band *band, int limit)
{
    struct sewn waiting = {0, -1, ""};
    int lines = 0, left_out = 0;

    if (band->drawn.cell == band->knitted.cell && band->left.cell == band->left_knitted.cell &&
        band->right.cell == band->right_knitted.cell)
        return 0;
    for (int r = 0; r <= band->rows; r++) {
        const char *words = r < band->rows ? word_row(page, band, r) : "";

        if (*words && strcmp(words, waiting.words) == 0) {
            waiting.to = r;
            continue;
        }
        if (*waiting.words && lines == 0)
            head_sewn(page, band);
        if (*waiting.words && (limit == 0 || lines < limit))
            put_sewn(page, &waiting);
        else if (*waiting.words)
            left_out++;
        lines += *waiting.words != '\0';
        waiting = (struct sewn){r, r, words};
    }
    return left_out;
}
