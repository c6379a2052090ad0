/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where the yarn goes, and how far to trust it.
 */
#include <math.h>
#include <string.h>

#include "base/apportion.h"
#include "report.h"

enum { NAME_AT = 2, NAME_WIDE = 11, BAR_WIDE = 24, LIKELY_WIDE = 14 };

/* Yarn, as worked, weight, likely, where it goes. */
static const struct page_column yarn_columns[] = {LEFT(NAME_AT), RIGHT(30), RIGHT(38), RIGHT(53), LEFT(54)};
/* Use, and what of each yarn. */
enum { USE_AT = 2, COLUMN_WIDE = 13, COLUMNS_MAX = 4 };
static const struct page_column use_columns[] = {LEFT(USE_AT), RIGHT(40), RIGHT(53), RIGHT(66), RIGHT(79)};

/* --- a line a yarn -------------------------------------------------------------------- */

/* [SSSSFFPPPP]; shown[use] is set for each letter that stands in it. */
static const char *bar_words(const struct page *page, const struct plan_yarn *yarn,
                             bool shown[USE_COUNT])
{
    struct text bar = text_create(page->work->arena);
    int64_t signs[USE_COUNT];

    apportion(yarn->use_m, USE_COUNT, yarn->length_m / BAR_WIDE, 0.0, signs);
    text_add(&bar, "[");
    for (int use = 0; use < USE_COUNT; use++) {
        char letter = words_use_letter((enum yarn_use)use);

        for (int64_t i = 0; i < signs[use]; i++)
            text_add_bytes(&bar, &letter, 1);
        shown[use] = shown[use] || signs[use] > 0;
    }
    text_add(&bar, "]");
    return bar.bytes;
}

/* "235 to 262 yd"; the unit left out where there is no room. */
static const char *likely_words(const struct page *page, const struct plan_yarn *yarn)
{
    const char *words = report_range(page, yarn);

    if (text_columns(words) <= LIKELY_WIDE)
        return words;
    return words_format(page, "%.*s", (int)(strrchr(words, WORDS_TIE[0]) - words), words);
}

static void put_line(const struct page *page, const struct plan_yarn *yarn, bool shown[USE_COUNT])
{
    page_row(page, yarn_columns, words_clip(page, yarn->name, NAME_WIDE), words_yarn_length(page, yarn->length_m),
             isfinite(yarn->grams) ? words_grams(page, yarn->grams) : "",
             yarn->likely.high_m > 0.0 ? likely_words(page, yarn) : "", bar_words(page, yarn, shown));
}

static void put_lines(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool shown[USE_COUNT] = {false};
    struct text key = text_create(page->work->arena);

    page_row(page, yarn_columns, "", "as worked", "weight", "9 times in 10", "where it goes");
    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].used)
            put_line(page, &piece->yarns[i], shown);
    for (int use = 0; use < USE_COUNT; use++)
        if (shown[use])
            text_addf(&key, "%s%c" WORDS_TIE "%s", key.length ? ", " : "",
                      words_use_letter((enum yarn_use)use),
                      words_tie(page, plan_use_name((enum yarn_use)use)));
    page_sayf(page, NAME_AT, "%s.", key.bytes);
}

/* --- use by use ------------------------------------------------------------------------ */

struct column {
    const struct plan_yarn *yarn;
    bool each; /* of one piece, not of all */
    const char *use[USE_COUNT];
    const char *sum;
};

struct columns { /* shown side by side in one table */
    struct column column[COLUMNS_MAX];
    int count;
};

static double length_of(const struct column *column)
{
    return column->each ? column->yarn->each_m : column->yarn->length_m;
}

static void add_column(const struct page *page, struct columns *columns,
                       const struct plan_yarn *yarn, bool each)
{
    struct column *column = &columns->column[columns->count++];

    column->yarn = yarn;
    column->each = each;
    words_yarn_column(page, each ? yarn->each_use_m : yarn->use_m, USE_COUNT, column->use,
                      &column->sum);
}

/* A line of the table, cells[0] its label, the others by column. */
static void put_cells(const struct page *page, const struct columns *columns, const char *const *cells)
{
    page_cells(page, use_columns, cells, 1 + (size_t)columns->count);
}

/* The yarn's name over its last column, and which column is of one piece. */
static void put_names(const struct page *page, const struct columns *columns)
{
    const char *names[1 + COLUMNS_MAX] = {""}, *pieces[1 + COLUMNS_MAX] = {""};
    int make = page->plan->make;

    for (int i = 0; i < columns->count; i++) {
        const struct column *column = &columns->column[i];

        names[1 + i] = column->each ? "" : words_clip(page, column->yarn->name, COLUMN_WIDE - 1);
        pieces[1 + i] = column->each ? "each" : make == 2 ? "both" : words_format(page, "all %d", make);
    }
    put_cells(page, columns, names);
    if (make > 1)
        put_cells(page, columns, pieces);
}

static void put_use(const struct page *page, const struct columns *columns, enum yarn_use use)
{
    const char *cells[1 + COLUMNS_MAX] = {plan_use_name(use)};
    bool any = false;

    for (int i = 0; i < columns->count; i++) {
        cells[1 + i] = columns->column[i].use[use];
        any = any || *cells[1 + i] != '.';
    }
    if (any)
        put_cells(page, columns, cells);
}

static void put_sums(const struct page *page, const struct columns *columns)
{
    const char *rules[1 + COLUMNS_MAX] = {""}, *sums[1 + COLUMNS_MAX] = {"in all, as worked"};
    const char *other[1 + COLUMNS_MAX] = {""}, *weight[1 + COLUMNS_MAX] = {"by weight"};
    bool grams = false;

    for (int i = 0; i < columns->count; i++) {
        const struct column *column = &columns->column[i];
        double mass_g = column->each ? column->yarn->each_grams : column->yarn->grams;

        rules[1 + i] = "----------";
        sums[1 + i] = column->sum;
        other[1 + i] = words_yarn_length_other(page, length_of(column));
        weight[1 + i] = isfinite(mass_g) ? words_grams(page, mass_g) : ".";
        grams = grams || isfinite(mass_g);
    }
    put_cells(page, columns, rules);
    put_cells(page, columns, sums);
    put_cells(page, columns, other);
    if (grams)
        put_cells(page, columns, weight);
}

static void put_table(const struct page *page, const struct columns *columns)
{
    page_gap(page);
    put_names(page, columns);
    for (int use = 0; use < USE_COUNT; use++)
        put_use(page, columns, (enum yarn_use)use);
    put_sums(page, columns);
}

static void put_tables(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool pieces = page->plan->make > 1;
    struct columns columns = {.count = 0};

    for (int i = 0; i < piece->nyarns; i++) {
        if (!piece->yarns[i].used)
            continue;
        if (columns.count + (pieces ? 2 : 1) > COLUMNS_MAX) {
            put_table(page, &columns);
            columns.count = 0;
        }
        if (pieces)
            add_column(page, &columns, &piece->yarns[i], true);
        add_column(page, &columns, &piece->yarns[i], false);
    }
    if (columns.count > 0)
        put_table(page, &columns);
}

/* "66 yd of straw and 20 yd of bark"; counted: whether it is in the lengths. */
static const char *swatch_words(const struct page *page, bool *counted)
{
    const struct plan_piece *piece = &page->plan->piece;
    struct text words = text_create(page->work->arena);
    int left = 0;

    for (int i = 0; i < piece->nyarns; i++)
        left += piece->yarns[i].swatch_m > 0.0;
    for (int i = 0; i < piece->nyarns; i++) {
        const struct plan_yarn *yarn = &piece->yarns[i];

        *counted = *counted || yarn->use_m[USE_SWATCH] > 0.0;
        if (!(yarn->swatch_m > 0.0))
            continue;
        text_addf(&words, "%s%s of %s", words.length == 0 ? "" : left == 1 ? " and " : ", ",
                  words_yarn_length_leading(page, yarn->swatch_m), yarn->name);
        left--;
    }
    return words.length > 0 ? words.bytes : "";
}

static const char *size_words(const struct page *page, const struct plan_swatch *swatch)
{
    if (!(swatch->side_in > 0.0))
        return "of the stitches you weighed";
    return words_format(page, "%s%s square", swatch->taken ? "taken as " : "",
                        words_length(page, swatch->side_in));
}

/* "The two swatches, taken as 6 in (15.2 cm) square," */
static const char *swatches_words(const struct page *page)
{
    const struct plan *plan = page->plan;
    const char *size = size_words(page, &plan->swatches[0]), *plain;

    if (plan->nswatches < 2)
        return words_format(page, "The swatch, %s,", size);
    plain = size_words(page, &plan->swatches[1]);
    if (strcmp(size, plain) == 0)
        return words_format(page, "The two swatches, %s%s,", size,
                            plan->swatches[0].side_in > 0.0 ? " each" : "");
    return words_format(page, "The two swatches, the stranded one %s and the plain one %s,", size, plain);
}

/* What ripping it would save, close call or not. */
static void say_swatch_balls(const struct page *page)
{
    const struct plan *plan = page->plan;

    for (int i = 0; i < plan->piece.nyarns; i++) {
        const struct plan_yarn *yarn = &plan->piece.yarns[i];

        if (yarn->swatch_balls > 0)
            page_sayf(page, USE_AT, "Ripped and knitted up, %s would save %s of %s.",
                      plan->nswatches > 1 ? "they" : "it",
                      words_count(page, yarn->swatch_balls, "ball", "balls"), yarn->name);
    }
}

static void say_swatch(const struct page *page)
{
    bool counted = false, two = page->plan->nswatches > 1;
    const char *amounts = swatch_words(page, &counted);
    const char *it = two ? "them" : "it", *its = two ? "their" : "its";

    if (counted)
        page_sayf(page, USE_AT,
                  "%s %s counted%s, %s: if you rip %s and knit with %s yarn, take swatch = keep "
                  "out again.",
                  swatches_words(page), two ? "are" : "is", page->plan->make > 1 ? " once" : "",
                  amounts, it, its);
    else if (*amounts)
        page_sayf(page, USE_AT,
                  "%s %s, %s not counted, since you rip %s and knit with %s yarn; if you keep %s, "
                  "write swatch = keep under [buy].",
                  swatches_words(page), amounts, two ? "are" : "is", it, its, it);
    say_swatch_balls(page);
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

    page_sayf(page, 2,
              "A stitch takes %s, %s: trust the lengths to within %s. A float has %s of slack, %s.",
              report_stitch(page), method_words(loop->method),
              words_percent(page, loop->error_part), words_percent(page, loop->slack_ratio - 1.0),
              slack_words(loop->slack_origin));
}

/* Measured both ways, the yarn tells how long the balls are. */
static void say_balls(const struct page *page)
{
    const struct plan_loop *loop = &page->plan->piece.loop;
    const double worth_words = 0.005;

    if (fabs(loop->ball_ratio - 1.0) < worth_words)
        return;
    page_sayf(page, 2,
              "By your tape and your scale together a ball holds %s %s yarn than its band says: "
              "that is what weights and balls are counted by.",
              words_percent(page, fabs(loop->ball_ratio - 1.0)),
              loop->ball_ratio < 1.0 ? "less" : "more");
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
    put_lines(page);
    put_tables(page);
    page_gap(page);
    say_swatch(page);
    say_trust(page);
    say_balls(page);
    put_models(page);
}
