/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The plan as a knitter reads it: what to know first, what to buy, then in the order of work, and what it stands on.
 */
#include <math.h>
#include <string.h>

#include "render/directions/directions.h"
#include "render/render.h"
#include "report.h"

/* --- title, gauge, what to know before casting on -------------------------------------------- */

static const double CM_PER_IN = 2.54;

static void say(const struct page *page, const char *words)
{
    page_bulletf(page, 2, "%s", words);
}

static const char *needles(const struct page *page, const struct plan_gauge *gauge)
{
    const char *mm;

    if (!(gauge->needle_mm > 0.0))
        return "";
    mm = words_decimal(page, gauge->needle_mm, 2);
    if (gauge->needle_us && *gauge->needle_us)
        return words_format(page, ", on %s" WORDS_TIE "mm (US" WORDS_TIE "%s) needles", mm, gauge->needle_us);
    return words_format(page, ", on %s" WORDS_TIE "mm needles", mm);
}

static const char *gauge_words(const struct page *page, const struct plan_gauge *gauge)
{
    const char *rows = say_rounds(page->plan->round)->many;
    const char *sts_in = words_decimal(page, gauge->per_in, 2);
    const char *rows_in = words_decimal(page, gauge->rows_per_in, 2);
    const char *sts_cm = words_decimal(page, gauge->per_in * 10.0 / CM_PER_IN, 1);
    const char *rows_cm = words_decimal(page, gauge->rows_per_in * 10.0 / CM_PER_IN, 1);

    if (page->plan->cm_first)
        return words_format(page, "%s stitches and %s %s to 10" WORDS_TIE "cm (%s and %s to the inch)", sts_cm,
                            rows_cm, rows, sts_in, rows_in);
    return words_format(page, "%s stitches and %s %s to the inch (%s and %s to 10" WORDS_TIE "cm)", sts_in,
                        rows_in, rows, sts_cm, rows_cm);
}

const char *report_how_worked(const struct page *page)
{
    const char *way = page->plan->round ? page->plan->piece.cast_on.steek_sts > 0
                                              ? "in the round with a steek"
                                              : "in the round"
                                        : "flat, back and forth";

    if (page->plan->make > 1)
        return words_format(page, "Make %d, worked %s.", page->plan->make, way);
    return words_format(page, "Worked %s.", way);
}

const char *report_gauge(const struct page *page)
{
    const struct plan_gauge *gauge = &page->plan->piece.gauge;

    if (gauge->wanted)
        return words_format(page, "%s, stranded: wanted, not yet swatched", gauge_words(page, gauge));
    return words_format(page, "%s, stranded, %s%s", gauge_words(page, gauge),
                        gauge->washed ? "washed" : "not yet washed", needles(page, gauge));
}

const char *report_plain_gauge(const struct page *page)
{
    const struct plan_gauge *plain = &page->plan->piece.plain_gauge;

    return plain->measured ? words_format(page, "%s%s", gauge_words(page, plain), needles(page, plain)) : "";
}

void report_title(const struct page *page)
{
    const struct plan *plan = page->plan;
    const char *plain = report_plain_gauge(page);
    const char *title = *plan->title ? plan->title : plan->project_name;
    int length = text_columns(title);

    text_add(page->out, page->style->colour ? "\033[1m" : "");
    text_wrap(page->out, title, 0, 0, page->style->width);
    text_add(page->out, page->style->colour ? "\033[0m\n" : "\n");
    text_repeat(page->out, '=', length < page->style->width ? length : page->style->width);
    page_gap(page);
    page_say(page, 0, report_how_worked(page));
    page_entry(page, "gauge", report_gauge(page));
    if (*plain)
        page_entry(page, "plain gauge", plain);
}

static void put_before(const struct page *page)
{
    struct report_head head = report_head_pick(page);

    if (head.count == 0)
        return;
    page_heading(page, "BEFORE YOU CAST ON", NULL);
    for (int i = 0; i < head.count; i++)
        say(page, head.words[i]);
}

/* --- cautions -------------------------------------------------------------------------------- */

static bool said_at_head(const struct report_head *head, int note)
{
    for (int i = 0; i < head->count; i++)
        if (head->note[i] == note)
            return true;
    return false;
}

static void say_notes(const struct page *page)
{
    struct report_head head = report_head_pick(page);

    for (int i = 0; i < page->plan->nnotes; i++) {
        const struct diag *note = &page->plan->notes[i];

        if (note->code == DIAG_CHILD_LIMIT || said_at_head(&head, i))
            continue;
        say(page, words_set(page, words_format(page, "%s%s%s", note->what, note->todo ? " " : "",
                                               note->todo ? note->todo : "")));
    }
}

const char *const report_child_cautions[REPORT_CHILD_CAUTIONS] = {
    "Long or loose strands inside can catch small fingers and toes, and a strand drawn tight round "
    "one is a real injury: catch firmly or line the inside, and look it over after every wash.",
    "No cords or ties at the neck or hood of a child's things; sew buttons and beads on hard, and "
    "give none to under-threes. Nothing with loose strands belongs in a sleeping baby's cot.",
};

static void put_cautions(const struct page *page)
{
    const struct plan *plan = page->plan;

    page_heading(page, "CAUTIONS", NULL);
    say_notes(page);
    for (int i = 0; plan->child && i < REPORT_CHILD_CAUTIONS; i++)
        say(page, report_child_cautions[i]);
    if (plan->piece.cast_on.steek_sts > 0)
        say(page, "Cut a steek only after it is reinforced; slippery or superwash yarn wants "
                  "machine stitching.");
    say(page, "These are estimates from your swatch, with strands that lie easy: knit a little, "
              "measure again, weigh the ball, and let your hands decide.");
    say(page, "Buy each colour in one dye lot and keep the bands. Soak a stranded swatch first if "
              "a yarn is dark or bright, and wash the piece as the swatch was washed.");
    say(page, "Where a pattern, the yarn's label or your local safety rules say otherwise, they "
              "come first.");
}

/* --- what the numbers stand on ------------------------------------------------------ */

static const char *value_words(const struct page *page, const struct allowance *row)
{
    if (strcmp(row->unit, "in") == 0)
        return words_length(page, row->value);
    if (strcmp(row->unit, "ratio") == 0 && row->value < 1.0)
        return words_percent(page, row->value);
    if (strcmp(row->unit, "ratio") == 0)
        return words_format(page, "%s" WORDS_TIE "times", words_decimal(page, row->value, 3));
    if (strcmp(row->unit, "number") == 0)
        return words_decimal(page, row->value, 3);
    return words_format(page, "%s" WORDS_TIE "%s", words_decimal(page, row->value, 3), row->unit);
}

static const char *standing_words(const struct page *page, const struct allowance *row)
{
    if (strcmp(row->source, "none") == 0 || !*row->source)
        return row->standing;
    return words_format(page, "%s [%s]", row->standing, row->source);
}

static bool stand_alike(const struct allowance *a, const struct allowance *b)
{
    return strcmp(a->standing, b->standing) == 0 && strcmp(a->source, b->source) == 0;
}

static bool is_told(const struct page *page, int row)
{
    for (int i = 0; i < row; i++)
        if (stand_alike(page->plan->basis[i], page->plan->basis[row]))
            return true;
    return false;
}

/* All rows of one standing and source: "Judgement: 2 %: how far a count in one place may be out; ..." */
static void put_alike(const struct page *page, int first)
{
    const struct allowance *const *basis = page->plan->basis;
    struct text text = text_create(page->work->arena);
    const char *standing = standing_words(page, basis[first]);

    text_addf(&text, "%c%s. ", *standing - 'a' + 'A', standing + 1);
    for (int i = first; i < page->plan->nbasis; i++)
        if (stand_alike(basis[i], basis[first]))
            text_addf(&text, "%s%s: %s", i == first ? "" : "; ", value_words(page, basis[i]),
                      basis[i]->what);
    say(page, words_format(page, "%s.", text.bytes));
}

static void put_basis(const struct page *page)
{
    bool sources = false;

    if (page->plan->nbasis == 0)
        return;
    page_heading(page, "WHAT THE NUMBERS STAND ON", "besides your own");
    for (int i = 0; i < page->plan->nbasis; i++) {
        if (!is_told(page, i))
            put_alike(page, i);
        sources = sources || strcmp(page->plan->basis[i]->source, "none") != 0;
    }
    page_sayf(page, 2, "The whole table%s: strandwise tables allowances",
              sources ? ", with the sources numbered here" : "");
}

/* --- all of it, in order --------------------------------------------------------------------- */

/* Beyond this many the words fill more paper than the rest of the plan. */
enum { DIRECTIONS_ROWS_MAX = 200, DIRECTIONS_COLUMNS_MAX = 400 };

static bool directions_are_long(const struct plan_piece *piece)
{
    int rows = 0, columns = 0;

    for (int i = 0; i < piece->nbands; i++) {
        rows += piece->bands[i].rows;
        if (piece->bands[i].repeat_sts > columns)
            columns = piece->bands[i].repeat_sts;
    }
    return rows > DIRECTIONS_ROWS_MAX || columns > DIRECTIONS_COLUMNS_MAX;
}

static void put_directions(const struct page *page)
{
    page_heading(page, page->plan->round ? "THE ROUNDS IN WORDS" : "THE ROWS IN WORDS", NULL);
    if (directions_are_long(&page->plan->piece))
        page_sayf(page, 2,
                  "This chart is too large to be put into words here. For them type: strandwise "
                  "directions %s",
                  page->plan->project_name);
    else
        directions_add(page);
}

void report_sections(const struct page *page, unsigned leave_out)
{
    static const struct {
        void (*put)(const struct page *page);
        unsigned bit; /* to be left out by */
    } sections[] = {
        {report_title, REPORT_TITLE}, {put_before, REPORT_BEFORE}, {report_buy, REPORT_BUY},
        {report_steps, REPORT_STEPS}, {report_counts, 0},          {report_sizes, 0},
        {report_together, 0},         {report_bands, 0},           {report_borders, 0},
        {report_floats, 0},           {report_recolours, 0},       {report_waiting, 0},
        {put_directions, 0},          {report_yarn, 0},            {report_duplicates, 0},
        {report_exchanged, 0},        {report_weigh_in, 0},        {report_weighed, 0},
        {report_tries, 0},            {report_ladder, 0},          {put_cautions, 0},
        {put_basis, 0},
    };

    for (size_t i = 0; i < sizeof sections / sizeof *sections; i++)
        if (!(leave_out & sections[i].bit))
            sections[i].put(page);
}

void render_report(struct work *work, const struct plan *plan, const struct words_style *style,
                   struct text *out)
{
    struct page page = {work, plan, style, out};

    report_sections(&page, 0);
}
