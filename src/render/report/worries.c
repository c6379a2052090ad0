/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What deserves one of the few sentences at the head. Each candidate has a weight; the
 * weights are an order of the editor's, no numbers of the trade.
 */
#include <inttypes.h>
#include <math.h>

#include "report.h"

enum { WORRIES_MAX = 24 };

enum weight {
    WEIGHT_FINE = 10, /* nothing wrong: said if there is room */
    WEIGHT_SOFT = 30,
    WEIGHT_CATCHES = 50,
    WEIGHT_CALL = 55,
    WEIGHT_NOTE = 60,
    WEIGHT_SIZE = 70,
    WEIGHT_LONG = 75,
    WEIGHT_GAUGE = 80,
    WEIGHT_SIZE_BAD = 85,
    WEIGHT_CHILD = 95,
    WEIGHT_FAR = 98 /* nobody wears it: before all else */
};

/* Shares of the size asked for from which being off comes first, and from which it counts. */
static const double OFF_BAD = 0.04, OFF_SEEN = 0.02;

struct worry {
    int weight;
    int note;
    const char *words;
};

struct worries {
    int count;
    struct worry list[WORRIES_MAX];
};

static void add_worry(struct worries *worries, int weight, int note, const char *words)
{
    if (worries->count < WORRIES_MAX)
        worries->list[worries->count++] = (struct worry){weight, note, words};
}

/* --- size --------------------------------------------------------------------------- */

static double off_part(const struct plan_band *band)
{
    return band->has_target ? fabs(band->off_part) : -1.0;
}

static const struct plan_band *furthest_off(const struct plan_piece *piece)
{
    const struct plan_band *worst = &piece->bands[0];

    for (int i = 1; i < piece->nbands; i++)
        if (off_part(&piece->bands[i]) > off_part(worst))
            worst = &piece->bands[i];
    return worst;
}

/* "3/8 in (1 cm) larger than the 10 1/8 in (25.7 cm) you asked for", at a step at which what is printed
 * subtracts. */
static const char *against_wanted(const struct page *page, const struct plan_band *band,
                                  enum words_step step)
{
    const double unseen_in = 1.0 / 16.0; /* rounds to nothing on a ruler of eighths */
    double off_in = band->finished_in - band->wanted_in;
    bool eased = fabs(band->wanted_in - band->measure_in) > unseen_in;

    if (!band->has_target)
        return "; no measure was given to set that against";
    if (fabs(off_in) < unseen_in)
        return eased ? ", as you asked with the ease" : ", as you asked";
    return words_format(page, ", %s %s than the %s you asked for%s",
                        words_length_step(page, fabs(off_in), step),
                        off_in > 0.0 ? "larger" : "smaller",
                        words_length_step(page, band->wanted_in, step),
                        eased ? " with the ease" : "");
}

static const char *range_words(const struct page *page, const struct plan_band *band)
{
    const struct plan_piece *piece = &page->plan->piece;
    const double seen_in = 0.125;

    if (band != piece->bands || !isfinite(piece->finished_low_in) ||
        !isfinite(piece->finished_high_in) ||
        piece->finished_high_in - piece->finished_low_in < seen_in)
        return "";
    return words_format(page, " By the spread of your counts it may turn out anywhere from %s to %s.",
                        words_length(page, piece->finished_low_in),
                        words_length(page, piece->finished_high_in));
}

/* " Others are off too: cuff by 3.1 %, leg by 2.4 %." */
static const char *others_words(const struct page *page, const struct plan_band *worst)
{
    enum { NAMED_MAX = 3 };
    const struct plan_piece *piece = &page->plan->piece;
    struct text text = text_create(page->work->arena);
    int n = 0;

    for (int i = 0; i < piece->nbands; i++) {
        if (&piece->bands[i] == worst || !(off_part(&piece->bands[i]) > OFF_SEEN))
            continue;
        if (n++ < NAMED_MAX)
            text_addf(&text, "%s%s by %s", n > 1 ? ", " : "", piece->bands[i].name,
                      words_percent(page, off_part(&piece->bands[i])));
    }
    if (n > NAMED_MAX)
        text_addf(&text, " and %d more", n - NAMED_MAX);
    return n == 0 ? "" : words_format(page, " Off as well: %s.", text.bytes);
}

static bool has_note(const struct page *page, enum diag_code code)
{
    for (int i = 0; i < page->plan->nnotes; i++)
        if (page->plan->notes[i].code == code)
            return true;
    return false;
}

static void worry_size(const struct page *page, struct worries *worries)
{
    const struct plan_piece *piece = &page->plan->piece;
    const struct plan_band *band;
    const char *name;
    enum words_step step;
    double off;

    if (piece->nbands == 0)
        return;
    band = furthest_off(piece);
    step = band->has_target ? words_step_apart(page, band->finished_in, band->wanted_in) : WORDS_STEP;
    off = off_part(band);
    name = piece->nbands > 1 ? words_format(page, "Band %s", band->name) : "It";
    add_worry(worries, off > OFF_BAD ? WEIGHT_SIZE_BAD : off > OFF_SEEN ? WEIGHT_SIZE : WEIGHT_CATCHES + 1,
              -1,
              words_format(page, "%s comes out %s %s%s%s.%s%s", name,
                           words_length_step(page, band->finished_in, step), words_across(page),
                           against_wanted(page, band, step),
                           has_note(page, DIAG_SEWN_NARROW) ? "" : words_sewn(page, band->sewn_in),
                           range_words(page, band), others_words(page, band)));
}

static void worry_height(const struct page *page, struct worries *worries)
{
    double wanted_in = page->plan->height_wanted_in;
    double off_in = page->plan->piece.bands_height_in - wanted_in;
    bool bad = fabs(off_in) > OFF_BAD * wanted_in;

    if (!(wanted_in > 0.0) || fabs(off_in) < 1.0 / page->plan->piece.gauge.rows_per_in)
        return;
    add_worry(worries, bad ? WEIGHT_SIZE : WEIGHT_SOFT + 1, -1,
              words_format(page, "The patterned part comes to %s in height; you asked for %s.",
                           words_length(page, page->plan->piece.bands_height_in),
                           words_length(page, wanted_in)));
}

/* --- floats ------------------------------------------------------------------------- */

static const char *longest_words(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;

    return words_format(page, "The longest float passes behind %s, %s.",
                        words_count(page, piece->longest_sts, "stitch", "stitches"),
                        words_length(page, piece->longest_in));
}

static const char *catch_words(const struct page *page)
{
    const struct plan *plan = page->plan;
    const struct plan_piece *piece = &plan->piece;

    if (piece->catches == 0)
        return "No float is too long: nothing need be caught.";
    if (plan->make == 1)
        return words_format(page, "%s to work.",
                            words_count(page, piece->catches, "catch", "catches"));
    return words_format(page, "%s in each piece, %s in all.",
                        words_count(page, piece->catches, "catch", "catches"),
                        words_grouped(page, piece->catches * plan->make));
}

static void worry_floats(const struct page *page, struct worries *worries)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool long_one = piece->very_long;
    bool child = page->plan->child && piece->too_long;
    const char *sewing = report_sewing_long(page);
    int weight = child ? WEIGHT_LONG : piece->too_long ? WEIGHT_CATCHES : WEIGHT_FINE;

    if (piece->longest_sts == 0)
        return;
    add_worry(worries, long_one && piece->too_long ? WEIGHT_LONG : weight, -1,
              words_format(page, "%s %s%s", catch_words(page), longest_words(page),
                           !long_one ? ""
                           : !*sewing
                               ? " That is a long way: think of breaking the motif up."
                               : words_format(page,
                                              " That is a long way: think of breaking the motif up, "
                                              "or of sewing %s on afterwards.",
                                              sewing)));
}

static void worry_three(const struct page *page, struct worries *worries)
{
    int64_t rows = page->plan->piece.rows_three_colours;

    if (rows == 0)
        return;
    add_worry(worries, WEIGHT_NOTE, -1,
              words_format(page,
                           "%s %s three yarns or more: slow work and a thick fabric there.%s",
                           words_rounds(page, rows), rows == 1 ? "carries" : "carry",
                           report_sewing(page)));
}

/* --- heel, head or hand --------------------------------------------------------------- */

/* Where it does not pass, a caution of its own says so. */
static void worry_stretch(const struct page *page, struct worries *worries)
{
    const struct plan_band *band = page->plan->piece.tightest_band;
    const struct plan_stretch *stretch;

    if (!band || !band->stretch->passes)
        return;
    stretch = band->stretch;
    add_worry(worries, stretch->close ? WEIGHT_SIZE : WEIGHT_CATCHES + 2, -1,
              words_format(page,
                           "%s pulls to about %s and must pass %s.%s",
                           page->plan->piece.nbands > 1
                               ? words_format(page, "Band %s, the tightest,", band->name)
                               : "The band",
                           words_length(page, stretch->pulls_to_in),
                           words_length(page, stretch->must_in),
                           stretch->close
                               ? words_format(page, " Keep the floats easy in chart %s %d.",
                                              words_round(page), stretch->tightest + 1)
                               : ""));
}

/* A band on as many stitches as the plain part beside it makes a waist. */
static void worry_borders(const struct page *page, struct worries *worries)
{
    const struct plan_piece *piece = &page->plan->piece;
    const struct plan_border *worst = NULL;

    for (int i = 0; i < piece->nborders; i++) {
        const struct plan_border *border = &piece->borders[i];

        if (!border->slight && !border->shaped && !border->asked &&
            (!worst || fabs(border->step_part) > fabs(worst->step_part)))
            worst = border;
    }
    if (worst)
        add_worry(worries, WEIGHT_NOTE + 1, -1,
                  words_format(page,
                               "Band %s is %s %s than part %s on the same stitches: stranded fabric "
                               "does not come out as wide as plain.",
                               piece->bands[worst->band].name,
                               words_length(page, fabs(worst->step_in)),
                               worst->step_in > 0.0 ? "narrower" : "wider", worst->plain_name));
}

/* --- child, yarn, notes ------------------------------------------------------------- */

static void worry_child(const struct page *page, struct worries *worries)
{

    if (!page->plan->child_limit_longer)
        return;
    add_worry(worries, WEIGHT_CHILD, -1,
              words_format(page,
                           "This is for a child, and you ask for floats of up to %s to be left "
                           "loose. Small fingers and toes catch in long strands: %s is safer, or "
                           "line the inside.",
                           words_limit(page),
                           words_length(page, tables_value(page->work->tables,
                                                           "float_limit_child_in"))));
}

static void worry_yarn(const struct page *page, struct worries *worries)
{
    const struct plan_piece *piece = &page->plan->piece;

    if (piece->loop.method == LOOP_FROM_GAUGE)
        add_worry(worries, WEIGHT_SOFT, -1,
                  words_format(page,
                               "The yarn is reckoned from the gauge alone and may be out by %s "
                               "either way; one unravelled row of the swatch would settle it.",
                               words_percent(page, piece->loop.error_part)));
}

static int weight_of_note(enum diag_code code)
{
    switch (code) {
    case DIAG_GAUGE_SWAPPED:
        return WEIGHT_CHILD - 1;
    case DIAG_MEASURE_FAR:
    case DIAG_PULL_TIGHT: /* what it must pass is not answered */
        return WEIGHT_FAR;
    case DIAG_WEIGHED_SHORT:
        return WEIGHT_SIZE_BAD + 1;
    case DIAG_WEIGHED_FAR:
    case DIAG_GAUGE_FLAT:
    case DIAG_GAUGE_SPREAD:
    case DIAG_GAUGE_UNUSUAL:
    case DIAG_MEASURE_UNUSUAL:
    case DIAG_WILL_NOT_PASS:
    case DIAG_SEWN_NARROW:
    case DIAG_CHILD_UNSAID:
        return WEIGHT_GAUGE;
    case DIAG_GAUGE_UNWASHED:
    case DIAG_BALL_UNUSUAL:
    case DIAG_ONE_STITCH_ROUND:
    case DIAG_LIMIT_LONG:
    case DIAG_TURN_LONG:
        return WEIGHT_SIZE;
    case DIAG_GAUGE_ONE_PLACE:
    case DIAG_SHAPING_STEEP:
        return WEIGHT_CALL;
    case DIAG_CHILD_LIMIT: /* said in words of its own */
        return 0;
    default:
        return diag_code_severity(code) == DIAG_CAUTION ? WEIGHT_SOFT : 0;
    }
}

static void worry_notes(const struct page *page, struct worries *worries)
{
    for (int i = 0; i < page->plan->nnotes; i++) {
        const struct diag *note = &page->plan->notes[i];
        int weight = weight_of_note(note->code);

        if (weight > 0)
            add_worry(worries, weight, i,
                      words_set(page, words_format(page, "%s%s%s", note->what,
                                                   note->todo ? " " : "",
                                                   note->todo ? note->todo : "")));
    }
}

struct report_head report_head_pick(const struct page *page)
{
    struct worries worries = {0};
    struct report_head head = {0};

    worry_size(page, &worries);
    worry_floats(page, &worries);
    worry_stretch(page, &worries);
    worry_borders(page, &worries);
    worry_child(page, &worries);
    worry_height(page, &worries);
    worry_three(page, &worries);
    worry_yarn(page, &worries);
    worry_notes(page, &worries);
    while (head.count < HEAD_MAX) {
        struct worry *worst = NULL;

        for (int i = 0; i < worries.count; i++)
            if (worries.list[i].weight > 0 && (!worst || worries.list[i].weight > worst->weight))
                worst = &worries.list[i];
        if (!worst)
            break;
        head.words[head.count] = worst->words;
        head.note[head.count++] = worst->note;
        worst->weight = 0;
    }
    return head;
}
