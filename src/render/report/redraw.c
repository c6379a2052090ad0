/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redrawn chart in words and marks: sizes, floats, what is kept and what is not, old beside new.
 */
#include "base/arena.h"
#include "render/draw/redraw.h"
#include "words/say.h"
#include "words/words.h"

enum { CROWDS_SAID = 4 };

static const struct say_rounds STITCHES = {"stitch", "stitches", "Stitch", "Stitches"};

struct saying {
    struct page page;
    const struct plan_redraw *redraw;
    const struct say_rounds *rounds; /* what its rows are called */
};

/* --- the old chart ------------------------------------------------------------------------------- */

static const char *yarn_words(const struct page *page, uint8_t yarn)
{
    return yarn == GRID_NO_STITCH ? "no stitch" : words_yarn(page, yarn);
}

/* "Round 20, stitch 5 is straw and stitch 11 bark." */
static void say_slip(const struct saying *say, const struct proof_fault *fault)
{
    const struct page *page = &say->page;
    const char *partner = fault->partner_row < 0 ? "beyond the edge the ground is"
                          : fault->partner_row == fault->row
                              ? words_format(page, "stitch %d is", fault->partner_column + 1)
                              : words_format(page, "stitch %d of %s %d is", fault->partner_column + 1, say->rounds->one,
                                             fault->partner_row + 1);

    page_item(page, 2, "-",
              words_format(page, "%s %d: stitch %d is %s, %s %s%s.", say->rounds->One,
                           fault->row + 1, fault->column + 1, yarn_words(page, fault->yarn), partner,
                           yarn_words(page, fault->wanted), fault->likely ? "; likely the first is the slip" : ""));
}

/* It just misses a symmetry: a slip that the redraw would take along. */
static void say_nearly(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct proof_chart *nearly = say->redraw->nearly;

    if (!nearly)
        return;
    page_sayf(page, 0,
              "Mend the old chart first: it nearly has %s, but for %s. If that is a slip, the redraw takes it "
              "along, and the new chart cannot have it whole.",
              proof_symmetry_words(page->work, nearly, page->plan->round, &nearly->symmetries.of[nearly->broken]),
              words_count(page, nearly->nfaults, "stitch", "stitches"));
    for (int i = 0; i < nearly->nfaults; i++)
        say_slip(say, &nearly->faults[i]);
    page_gap(page);
}

/* --- sizes --------------------------------------------------------------------------------------- */

static void say_head(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct plan_redraw *redraw = say->redraw;
    const struct redraw_gauge *gauge = &redraw->gauge_now;
    const char *in = words_decimal(page, gauge->rows_per_in, 2);
    const char *cm = words_decimal(page, gauge->rows_per_in * 10.0 / 2.54, 2);
    bool cm_first = page->plan->cm_first;

    page_sayf(page, 0,
              cm_first ? "%s redrawn%s: %s, %s %s to 10" WORDS_TIE "cm (%s to the inch)."
                       : "%s redrawn%s: %s, %s %s to the inch (%s to 10" WORDS_TIE "cm).",
              redraw->old->name, redraw->has_gauge ? "" : " at the gauge as it is", words_gauge(page, gauge->per_in),
              cm_first ? cm : in, say->rounds->many, cm_first ? in : cm);
    page_gap(page);
}

static void say_line(const struct page *page, const char *name, const struct redraw_line *line)
{
    page_entryf(page, name, "%d, %s; now %d (exactly %s), %s, %s", line->was, words_length(page, line->was_in),
                line->now, words_decimal(page, line->exact, 2), words_length(page, line->now_in),
                words_signed_percent(page, line->off_part));
}

/* "4 stitches" of another size, and what they lose */
static void say_nearer(const struct page *page, const char *counted, const char *option,
                       const struct redraw_line *line)
{
    if (line->nearer > 0)
        page_entryf(page, "or", "%s, %s, %s, without %s, which is what costs the size: --%s" WORDS_TIE "%d",
                    counted, words_length(page, line->nearer_in), words_signed_percent(page, line->nearer_off_part),
                    line->nearer_moves_middle ? "the centre line in its place" : "every symmetry", option,
                    line->nearer);
}

/* All times upwards. */
static void say_upwards(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct redraw_upwards *upwards = &say->redraw->upwards;

    if (upwards->was > 1)
        page_entryf(
            page, "upwards", "%d times, %s; now %s, %s%s", upwards->was, words_length(page, upwards->was_in),
            words_length(page, upwards->now_in), words_signed_percent(page, upwards->off_part),
            upwards->best == upwards->was ? ""
                                          : words_format(page, "; upwards = %d would be %s, %s", upwards->best,
                                                         words_length(page, upwards->best_in),
                                                         words_signed_percent(page, upwards->best_off_part)));
}

/* Plain rows at one end, and the motif between. */
static void say_plain(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct plan_redraw *redraw = say->redraw;
    const struct redraw_plain *plain = &redraw->plain;
    bool above = plain->above_was > 0;

    if (plain->motif_was < redraw->rows.was)
        page_entryf(page, "of these", "the motif %d, now %d; %s plain %s it, now %d", plain->motif_was,
                    plain->motif_now, words_rounds(page, above ? plain->above_was : plain->below_was),
                    above ? "above" : "below", above ? plain->above_now : plain->below_now);
}

static void say_heights(const struct saying *say)
{
    const struct page *page = &say->page;

    for (int i = 1; i < say->redraw->heights.n; i++) {
        const struct redraw_way *height = &say->redraw->heights.of[i];

        page_entryf(page, i == 1 ? "or" : "", "%s, %s, %s: --rows" WORDS_TIE "%d",
                    words_rounds(page, height->count), words_length(page, height->finished_in),
                    words_signed_percent(page, height->off_part), height->count);
    }
}

static const char *way_words(const struct page *page, const struct redraw_way *way)
{
    return words_format(page, "%lld repeat%s of %d, %lld stitches, %s, %s", (long long)way->repeats,
                        way->repeats == 1 ? "" : "s", way->count, (long long)way->stitches,
                        words_length(page, way->finished_in), words_signed_percent(page, way->off_part));
}

/* "4.9 % wider" */
static const char *wide_words(const struct page *page, double part)
{
    const double hardly = 0.0005;

    if (part > -hardly && part < hardly)
        return "as wide as it was";
    return words_format(page, "%s %s", words_percent(page, part < 0 ? -part : part),
                        part < 0 ? "narrower" : "wider");
}

static void say_ways(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct plan_redraw *redraw = say->redraw;

    page_entry(page, "in the piece", way_words(page, &redraw->ways.of[0]));
    for (int i = 1; i < redraw->ways.n; i++)
        page_entryf(page, i == 1 ? "or" : "", "%s; the motif %s: --columns" WORDS_TIE "%d",
                    way_words(page, &redraw->ways.of[i]), wide_words(page, redraw->ways.of[i].wide_part),
                    redraw->ways.of[i].count);
}

/* --- floats -------------------------------------------------------------------------------------- */

static const char *floats_words(const struct page *page, const struct redraw_floats *floats)
{
    if (floats->longest_sts == 0)
        return "none";
    return words_format(page, "%s, %s",
                        words_count(page, floats->longest_sts, "stitch", "stitches"),
                        words_length(page, floats->longest_in));
}

static const char *over_words(const struct page *page, int64_t floats)
{
    return floats == 0 ? "none" : words_format(page, "%s a piece", words_grouped(page, floats));
}

static const char *catches_words(const struct page *page, const struct redraw_floats *floats)
{
    if (floats->catches_piece == 0)
        return "none";
    return words_format(page, "%s a repeat, %s a piece", words_grouped(page, floats->catches_repeat),
                        words_grouped(page, floats->catches_piece));
}

static void say_floats(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct redraw_floats *was = &say->redraw->was, *now = &say->redraw->now;

    if (!say->redraw->planned) {
        page_entryf(page, "longest float", "%s; at the new gauge it cannot be reckoned: %s",
                    floats_words(page, was), words_set(page, say->redraw->why_not ? say->redraw->why_not : ""));
        return;
    }
    page_entryf(page, "longest float", "%s; now %s", floats_words(page, was), floats_words(page, now));
    page_entryf(page, "too long", "%s; now %s; the limit is %s", over_words(page, was->over_limit),
                over_words(page, now->over_limit), words_limit(page));
    page_entryf(page, "catches", "%s; now %s", catches_words(page, was), catches_words(page, now));
}

/* --- symmetries ---------------------------------------------------------------------------------- */

/* "stitch 8", "the line between stitches 7 and 8"; place: twice the number from 0. */
static const char *axis_words(const struct page *page, const struct say_rounds *names, int twice, int count)
{
    int at = (twice % (2 * count) + 2 * count) % (2 * count);

    if (at % 2 == 0)
        return words_format(page, "%s %d", names->one, at / 2 + 1);
    if (at == 2 * count - 1)
        return "the join";
    return words_format(page, "the line between %s %d and %d", names->many, at / 2 + 1, at / 2 + 2);
}

static const char *drop_words(const struct page *page, const struct symmetry *move, const struct grid *grid)
{
    bool half = 2 * move->column == grid->ncols && 2 * move->row == grid->nrows;

    if (move->column == 0)
        return words_format(page, "the same again every %s", words_rounds(page, move->row));
    return words_format(page, "%sthe same again %d stitches along and %s up", half ? "half-drop: " : "",
                        move->column, words_rounds(page, move->row));
}

static const char *move_words(const struct page *page, const struct symmetry *move,
                              const struct grid *grid)
{
    switch (move->kind) {
    case SYMMETRY_ALONG:
        return words_format(page, "the same again every %d stitches", move->column);
    case SYMMETRY_DROP:
        return drop_words(page, move, grid);
    case SYMMETRY_ACROSS:
        if (move->row > 0)
            return words_format(page, "mirrored left to right and moved up %s", words_rounds(page, move->row));
        return words_format(page, "mirrored left to right, about %s and about %s",
                            axis_words(page, &STITCHES, move->column, grid->ncols),
                            axis_words(page, &STITCHES, move->column + grid->ncols, grid->ncols));
    case SYMMETRY_UPSIDE:
        if (move->column > 0)
            return words_format(page, "mirrored top to bottom and moved along %d stitches", move->column);
        return words_format(page, "mirrored top to bottom, about %s",
                            axis_words(page, say_rounds(page->plan->round), move->row, grid->nrows));
    case SYMMETRY_TURN:
        return "the same when turned half round";
    case SYMMETRY_KINDS:
        break;
    }
    return "";
}

static void say_symmetries(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct resize_answer *answer = &say->redraw->answer;
    const struct motif *motif = &answer->motif;
    bool all = true;

    if (motif->nmoves == 0)
        page_entry(page, "symmetry", "the chart has none");
    for (int i = 0; i < motif->nmoves; i++) {
        page_entry(page, answer->keeps[i] ? "kept" : "not kept",
                   move_words(page, &motif->move[i], &say->redraw->old->drawn));
        all = all && answer->keeps[i];
    }
    if (!all)
        page_sayf(page, 2, "%d stitches by %s cannot have that: %s.", answer->chart.ncols,
                  words_rounds(page, answer->chart.nrows),
                  say->redraw->keeps_cols == 0
                      ? "choose other numbers with --columns and --rows"
                      : words_format(page, "the nearest that can are --columns %d --rows %d",
                                     say->redraw->keeps_cols, say->redraw->keeps_rows));
    if (!answer->columns.keeps_middle)
        page_say(page, 2, "A centre line that lay on a stitch now lies between two, or the other way "
                          "about: an odd number of stitches stays odd and an even one even, to keep it.");
}

/* --- what could not be kept ---------------------------------------------------------------------- */

/* "round 3", "rounds 2, 4 and 5" */
static const char *numbered_words(const struct page *page, const struct say_rounds *names,
                                  const struct resize_numbers *numbers)
{
    return words_format(page, "%s %s", numbers->count == 1 ? names->one : names->many,
                        words_places(page, numbers->number, numbers->count));
}

/* "stitches 3 to 7", through the join of the repeat where it goes on */
static const char *stretch_words(const struct page *page, const char *many, const struct resize_crowd *crowd,
                                 int count)
{
    if (crowd->length == count)
        return words_format(page, "all %d %s", count, many);
    return words_format(page, "%s %d to %d%s", many, crowd->from + 1,
                        (crowd->from + crowd->length - 1) % count + 1,
                        crowd->from + crowd->length > count ? " (over the join)" : "");
}

static void say_crowd(const struct saying *say, const struct redraw_crowd *crowd)
{
    const struct page *page = &say->page;
    const struct grid *old = &say->redraw->old->drawn;
    static const struct say_rounds at_the_head = {.one = "Stitch", .many = "Stitches"};

    page_item(page, 2, "-",
              words_format(page, "%s%s, %s: %d runs of colour, and room for %d.", crowd->along ? "Chart " : "",
                           numbered_words(page, crowd->along ? say->rounds : &at_the_head, &crowd->at),
                           stretch_words(page, crowd->along ? "stitches" : say->rounds->many, &crowd->stretch,
                                         crowd->along ? old->ncols : old->nrows),
                           crowd->stretch.runs, crowd->stretch.room));
}

static void say_crowds(const struct saying *say)
{
    const struct plan_redraw *redraw = say->redraw;
    int most = redraw->ncrowds <= CROWDS_SAID + 1 ? redraw->ncrowds : CROWDS_SAID;

    if (redraw->ncrowds == 0)
        return;
    page_say(&say->page, 2, "Every run of colour needs a stitch of its own. In these stretches "
                                         "of the old chart too few of the new lie, and it cannot stay as it is:");
    for (int i = 0; i < most; i++)
        say_crowd(say, &redraw->crowds[i]);
    if (most < redraw->ncrowds)
        page_item(&say->page, 2, "-", words_format(&say->page, "And %d more that lack less.", redraw->ncrowds - most));
    page_say(&say->page, 2, "What came of it:");
}

static bool is_mirrored(const struct resize_answer *answer)
{
    for (int i = 0; i < answer->motif.nmoves; i++)
        if (answer->keeps[i] && answer->motif.move[i].kind < SYMMETRY_ALONG)
            return true;
    return false;
}

static void say_rows_hurt(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct resize_answer *answer = &say->redraw->answer;

    if (answer->broken_rows.count > 0)
        page_sayf(page, 2, "Look at %s of the old chart beside %s of the new.%s",
                  numbered_words(page, say->rounds, &answer->broken_rows),
                  words_places(page, answer->broken_new_rows.number, answer->broken_new_rows.count),
                  is_mirrored(answer) ? " A stitch you redraw by hand, redraw on the other side of the mirror too."
                                      : "");
}

/* "Rounds 2-5 of the old chart" changed colour more often than the new do. */
static void say_simpler_part(const struct page *page, const struct resize_simpler *simpler,
                             const struct say_rounds *names)
{
    if (simpler->at.count > 0)
        page_item(page, 2, "-",
                  words_format(page, "Chart %s: fewer runs of colour than before. %s %d had %d, and the new %s there "
                                     "have %d at most.",
                               numbered_words(page, names, &simpler->at), names->One, simpler->worst + 1,
                               simpler->was, names->many, simpler->now));
}

static bool say_simpler(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct resize_answer *answer = &say->redraw->answer;

    if (answer->ends_lost > 0)
        page_sayf(page, 0, "%s gone: look at %s of the old chart.",
                  words_count(page, answer->ends_lost, "short arm or tip is", "short arms or tips are"),
                  numbered_words(page, say->rounds, &answer->ends_rows));
    if (answer->simpler_rows.at.count + answer->simpler_columns.at.count == 0)
        return answer->ends_lost > 0;
    page_say(page, 0, "No line has a gap, no part has run into another, and no float is over the limit where "
                      "none was. But lines that ran side by side may have become one, or an inlet may have closed. "
                      "Look at:");
    say_simpler_part(page, &answer->simpler_rows, say->rounds);
    say_simpler_part(page, &answer->simpler_columns, &STITCHES);
    return true;
}

/* What came of it. */
static void say_broken(const struct saying *say)
{
    const struct resize_faults *faults = &say->redraw->answer.faults;
    const struct {
        int count;
        const char *one, *many;
    } kinds[] = {
        {say->redraw->nlost, "part of which nothing is left.", "parts of which nothing is left."},
        {faults->holes, "hole of one stitch in the pattern is filled.",
         "holes of one stitch in the pattern are filled."},
        {faults->lines, "place where a one-stitch line breaks.", "places where a one-stitch line breaks."},
        {faults->joined, "part that has run into another of its colour.",
         "parts that have run into others of their colour."},
        {faults->split, "part that has come asunder.", "pieces that have come off a part."},
        {faults->floats, "float over the limit in a repeat where there was none.",
         "floats over the limit in a repeat where there were none."},
    };

    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (kinds[i].count > 0)
            page_item(&say->page, 2, "-", words_count(&say->page, kinds[i].count, kinds[i].one, kinds[i].many));
}

static void say_faults(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct plan_redraw *redraw = say->redraw;

    if (redraw->nfaults + redraw->answer.faults.floats == 0) {
        if (!say_simpler(say))
            page_say(page, 0, "Every line is whole, nothing joins that was apart, and no float is over the limit "
                              "where none was.");
        return;
    }
    if (!redraw->answer.recognisable)
        page_say(page, 0, "So much is gone that the motif can hardly be known. Give it more stitches and rows "
                          "(--columns, --rows), or take a finer gauge.");
    page_say(page, 0, "Could not be kept:");
    say_crowds(say);
    say_broken(say);
    say_rows_hurt(say);
    page_say(page, 2, "This is the best that the search has found; better is not ruled out. More stitches or "
                      "rows (--columns, --rows) may keep them; or change a stitch by hand.");
}

static void say_area(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct plan_redraw *redraw = say->redraw;

    if (redraw->answer.area == 0) {
        page_say(page, 0, "It is the old chart drawn to true size: nothing differs.");
        return;
    }
    page_sayf(page, 0,
              "It differs from the old chart drawn to true size in %s of the area; whole stitches cannot come "
              "nearer than %s. %s",
              words_percent(page, redraw->differs_part), words_percent(page, redraw->least_part),
              redraw->answer.nchanged == 0
                  ? "Every stitch has the colour that covers most of it."
                  : words_format(
                        page, "%s marked *: another colour than covers most of it, to keep lines, parts or floats.",
                        words_count(page, redraw->answer.nchanged, "stitch is", "stitches are")));
}

static void say_file(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct plan_redraw *redraw = say->redraw;

    for (const struct redraw_mark *of = redraw->marks; of < redraw->marks + redraw->nmarks; of++)
        if (!of->given)
            page_sayf(page, 0,
                      "%s has no mark in the project: a chart in marks has %s for it. Add mark = %s under [yarn %s].",
                      of->yarn, of->mark, of->mark, of->yarn);
    if (redraw->begins)
        page_say(page, 0, "The project begins this chart with another stitch; the new chart is drawn from there: "
                          "with it take \"begin with\" out.");
    if (redraw->across > 0)
        page_sayf(page, 0,
                  "The project says across = %d: with the new chart take that out, or, if it is a picture again, "
                  "write across = %d.",
                  redraw->across, redraw->columns.now);
}

/* What the project says of the count, and what it is to say with the new chart. */
static void say_counts(const struct saying *say)
{
    const struct page *page = &say->page;
    const struct plan_redraw *redraw = say->redraw;

    if (redraw->remedy)
        page_sayf(page, 0, "The project has a remedy for the old chart%s: with the new chart take \"remedy\" out.",
                  redraw->remade ? ", and the new one is drawn from what that makes of it" : "");
    if (redraw->repeats > 0)
        page_sayf(page, 0,
                  "The project gives the number of repeats: with the new chart write repeats = %d under [band %s].",
                  redraw->repeats, redraw->old->name);
    if (redraw->counted_with_others)
        page_say(page, 0, "The count of this band is solved with the other bands. The counts and sizes above are those "
                          "of this band alone; the plan with the new chart finds them for all.");
}

/* --- old and new in marks ------------------------------------------------------------------------ */

/* Side stitches at either end, if any, and the places it all takes. */
struct shown {
    const struct grid *grid, *left, *right;
    const uint8_t *changed;
    int places;
};

static struct shown shown_of(const struct plan_band *band, const uint8_t *changed)
{
    int sides = band->left.ncols + band->right.ncols;

    return (struct shown){&band->drawn, &band->left, &band->right, changed,
                          2 * (band->drawn.ncols + sides) + 3 + (sides > 0 ? 4 : 0)};
}

/* Leftmost stitch first, two places a stitch. */
static void add_stitches(const struct saying *say, const struct grid *grid, int row, const uint8_t *changed)
{
    for (int c = grid->ncols - 1; c >= 0; c--) {
        int at = row * grid->ncols + c;

        text_add(say->page.out, say->redraw->marks[grid->cell[at]].mark);
        text_add(say->page.out, changed && changed[at] ? "*" : " ");
    }
}

static void add_row(const struct saying *say, const struct shown *shown, int row)
{
    bool barred = shown->left->ncols + shown->right->ncols > 0;

    add_stitches(say, shown->left, row, NULL);
    text_add(say->page.out, barred ? "| " : "");
    add_stitches(say, shown->grid, row, shown->changed);
    text_add(say->page.out, barred ? "| " : "");
    add_stitches(say, shown->right, row, NULL);
    text_addf(say->page.out, "%3d", row + 1);
}

static void add_chart(const struct saying *say, const char *name, const struct shown *shown)
{
    text_addf(say->page.out, "\n%s:\n", name);
    for (int r = shown->grid->nrows - 1; r >= 0; r--) {
        add_row(say, shown, r);
        text_add(say->page.out, "\n");
    }
}

/* Standing on one line. */
static void add_beside(const struct saying *say, const struct shown *old, const struct shown *new)
{
    struct text *out = say->page.out;
    int tallest = old->grid->nrows > new->grid->nrows ? old->grid->nrows : new->grid->nrows;

    text_add(out, "\nOld:");
    text_repeat(out, ' ', old->places);
    text_add(out, "New:\n");
    for (int r = tallest - 1; r >= 0; r--) {
        if (r < old->grid->nrows)
            add_row(say, old, r);
        else
            text_repeat(out, ' ', old->places);
        if (r < new->grid->nrows) {
            text_add(out, "    ");
            add_row(say, new, r);
        }
        text_add(out, "\n");
    }
}

static void add_charts(const struct saying *say)
{
    const struct plan_redraw *redraw = say->redraw;
    const struct shown old = shown_of(redraw->old, NULL), new = shown_of(redraw->band, redraw->answer.changed);

    if (old.places + new.places + 4 <= say->page.style->width) {
        add_beside(say, &old, &new);
        return;
    }
    add_chart(say, "Old", &old);
    add_chart(say, "New", &new);
}

void render_redraw(struct work *work, const struct plan *plan, const struct plan_redraw *redraw,
                   const struct words_style *style, struct text *out)
{
    struct saying say = {{work, plan, style, out}, redraw, say_rounds(plan->round)};

    say_nearly(&say);
    say_head(&say);
    say_line(&say.page, "stitches", &redraw->columns);
    say_nearer(&say.page, words_count(&say.page, redraw->columns.nearer, "stitch", "stitches"), "columns",
               &redraw->columns);
    say_ways(&say);
    say_line(&say.page, say.rounds->many, &redraw->rows);
    say_plain(&say);
    say_nearer(&say.page, words_rounds(&say.page, redraw->rows.nearer), "rows", &redraw->rows);
    say_heights(&say);
    say_upwards(&say);
    if (redraw->stretched)
        page_entryf(&say.page, "proportion", "the motif is %s for its height than it was",
                    wide_words(&say.page, redraw->stretch_part));
    say_floats(&say);
    say_symmetries(&say);
    page_gap(&say.page);
    say_area(&say);
    say_faults(&say);
    say_counts(&say);
    say_file(&say);
    add_charts(&say);
}
