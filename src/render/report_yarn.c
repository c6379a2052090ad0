/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where the yarn goes, and how far to trust it.
 */
#include <math.h>

#include "report.h"

enum { USE_AT = 2, FIRST_TO = 40, COLUMN_WIDE = 13, COLUMNS_MAX = 4 };

struct columns { /* the yarns shown side by side in one table */
    int yarn[COLUMNS_MAX];
    int count;
};

static void put_names(const struct page *page, const struct columns *columns)
{
    struct text line = page_line(page);

    for (int i = 0; i < columns->count; i++)
        line_to(&line, FIRST_TO + i * COLUMN_WIDE,
                words_clip(page, words_yarn(page, columns->yarn[i]), COLUMN_WIDE - 1));
    page_put(page, &line);
}

static void put_use(const struct page *page, const struct columns *columns, enum yarn_use use)
{
    struct text line = page_line(page);
    const double seen_m = 0.05; /* less shows as nothing */
    bool any = false;

    line_at(&line, USE_AT, plan_use_name(use));
    for (int i = 0; i < columns->count; i++) {
        double metres = page->plan->piece.yarns[columns->yarn[i]].use_m[use];

        line_to(&line, FIRST_TO + i * COLUMN_WIDE,
                metres >= seen_m ? words_yarn_length_leading(page, metres) : ".");
        any = any || metres >= seen_m;
    }
    if (any)
        page_put(page, &line);
}

static void put_rule(const struct page *page, const struct columns *columns)
{
    struct text line = page_line(page);
    struct text rule = text_create(page->work->arena);

    text_repeat(&rule, '-', COLUMN_WIDE - 3);
    for (int i = 0; i < columns->count; i++)
        line_to(&line, FIRST_TO + i * COLUMN_WIDE, rule.bytes);
    page_put(page, &line);
}

static void put_sums(const struct page *page, const struct columns *columns)
{
    struct text leading = page_line(page), other = page_line(page), weight = page_line(page);
    bool grams = false;

    line_at(&leading, USE_AT, "in all, as worked");
    line_at(&weight, USE_AT, "by weight");
    for (int i = 0; i < columns->count; i++) {
        const struct plan_yarn *yarn = &page->plan->piece.yarns[columns->yarn[i]];
        int to = FIRST_TO + i * COLUMN_WIDE;

        line_to(&leading, to, words_yarn_length_leading(page, yarn->length_m));
        line_to(&other, to, words_yarn_length_other(page, yarn->length_m));
        line_to(&weight, to, isfinite(yarn->grams) ? words_grams(page, yarn->grams) : ".");
        grams = grams || isfinite(yarn->grams);
    }
    page_put(page, &leading);
    page_put(page, &other);
    if (grams)
        page_put(page, &weight);
}

static void put_table(const struct page *page, const struct columns *columns)
{
    put_names(page, columns);
    for (int use = 0; use < USE_COUNT; use++)
        put_use(page, columns, (enum yarn_use)use);
    put_rule(page, columns);
    put_sums(page, columns);
}

static void put_tables(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    struct columns columns = {.count = 0};
    bool first = true;

    for (int i = 0; i <= piece->nyarns; i++) {
        if (i < piece->nyarns && piece->yarns[i].used)
            columns.yarn[columns.count++] = i;
        if (columns.count == 0 || (columns.count < COLUMNS_MAX && i < piece->nyarns))
            continue;
        if (!first)
            page_gap(page);
        put_table(page, &columns);
        columns.count = 0;
        first = false;
    }
}

/* --- trust -------------------------------------------------------------------------- */

static const char *method_words(enum loop_method method)
{
    switch (method) {
    case LOOP_FROM_TWO_YARNS:
        return "measured, from one stranded row unravelled";
    case LOOP_FROM_PLAIN_ROW:
        return "measured, from a plain row unravelled";
    case LOOP_FROM_MARKED:
        return "measured, from a marked length knitted";
    case LOOP_FROM_BALL:
        return "from a ball weighed before and after";
    case LOOP_FROM_SEVERAL:
        return "from all you measured together";
    case LOOP_FROM_WEIGHT:
        return "from the swatch's weight and the ball's length";
    case LOOP_FROM_GAUGE:
        break;
    }
    return "reckoned from the gauge alone";
}

static const char *slack_words(enum slack_origin origin)
{
    switch (origin) {
    case SLACK_GIVEN:
        return "as you gave it";
    case SLACK_MEASURED:
        return "as your swatch shows";
    case SLACK_TABLE:
        break;
    }
    return "the usual figure";
}

static void say_trust(const struct page *page)
{
    const struct plan_loop *loop = &page->plan->piece.loop;

    page_say(page, 2,
             words_format(page,
                          "A stitch takes %s of yarn, %s: trust the lengths to within %s. A float "
                          "has %s of slack, %s.",
                          words_fine_length(page, loop->loop_mm), method_words(loop->method),
                          words_percent(page, loop->error_part),
                          words_percent(page, loop->slack_ratio - 1.0),
                          slack_words(loop->slack_origin)));
}

/* The models side by side: where they disagree, so should her trust. */
static void put_models(const struct page *page)
{
    const struct plan_loop *loop = &page->plan->piece.loop;
    struct text words = text_create(page->work->arena);

    text_addf(&words, "From the gauge alone a stitch would take %s by its stitches and rows, %s by "
                      "its stitches",
              words_fine_length(page, loop->density_mm), words_fine_length(page, loop->width_mm));
    if (isfinite(loop->thickness_mm))
        text_addf(&words, ", %s with the yarn's thickness", words_fine_length(page, loop->thickness_mm));
    text_addf(&words, ": they lie %s apart.", words_percent(page, loop->spread_part));
    page_say(page, 2, words.bytes);
}

void report_yarn(const struct page *page)
{
    const struct plan *plan = page->plan;

    if (plan->piece.nyarns == 0)
        return;
    page_heading(page, "YARN, WHERE IT GOES",
                 words_format(page, "%s, before anything to spare", words_pieces(page)));
    put_tables(page);
    page_gap(page);
    say_trust(page);
    put_models(page);
}
