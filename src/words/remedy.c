/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "remedy.h"

#include <inttypes.h>
#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/wear/stretch.h"
#include "say.h"
#include "shaping.h"

/* One way round being put into words. */
struct saying {
    struct arena *arena;
    const struct fit_case *facts;
    const struct fit_question *question;
    const struct fit_remedy *remedy;
    const struct say_rounds *rounds;
};

const char *remedy_kind_name(enum fit_kind kind)
{
    static const char *const names[FIT_KIND_COUNT] = {"another count", "shape",         "plain columns", "trim or pad",
                                                      "part repeats",  "another gauge", "redraw"};

    return names[kind];
}

static const char *word_of(const struct fit_remedy *remedy)
{
    if (remedy->kind == FIT_TRIM_OR_PAD)
        return remedy->remake.twice ? "pad" : "trim";
    if (remedy->kind == FIT_PART_REPEATS && remedy->remake.over_plain)
        return "plain sides";
    return remedy_kind_name(remedy->kind);
}

void remedy_name(struct work *work, struct fit_answer *answer)
{
    for (int i = 0; i < answer->count; i++) {
        struct fit_remedy *remedy = &answer->remedies[i];

        remedy->word = word_of(remedy);
        remedy->choice = arena_printf(work->arena, "%s, %s", remedy->word,
                                      say_count(work->arena, remedy->repeats, "repeat", "repeats"));
    }
}

/* --- parts of the sentences ----------------------------------------------------------- */

static const char *length(const struct saying *say, double inches)
{
    return say_length(say->arena, inches, say->question->cm_first);
}

/* "7 at the sides", "2 edge stitches", "5 at the sides and 2 edge stitches": apart, as the plan has them. */
static const char *sides_words(const struct saying *say)
{
    int edges = say->question->selvedge_sts, sides = say->question->side_sts - edges;
    const char *edge_words = edges > 0 ? arena_printf(say->arena, "%d edge stitches", edges) : "";

    return sides > 0 ? arena_printf(say->arena, "%d at the sides%s%s", sides, edges > 0 ? " and " : "", edge_words)
                     : edge_words;
}

/* "84 stitches (7 repeats of 12)", "87 stitches (4 repeats of 20 and 7 at the sides)" */
static const char *repeats_words(const struct saying *say)
{
    const struct fit_question *question = say->question;
    bool both = question->selvedge_sts > 0 && question->side_sts > question->selvedge_sts;

    return arena_printf(say->arena, "%s (%s of %d%s%s)", say_stitches(say->arena, say->remedy->stitches),
                        say_count(say->arena, say->remedy->repeats, "repeat", "repeats"), say->remedy->repeat_sts,
                        question->side_sts == 0 ? "" : both ? ", " : " and ", sides_words(say));
}

/* "1/4 in (0.6 cm) wider than wanted"; `met` where the ruler shows nothing. */
static const char *off_words(const struct saying *say, const char *met)
{
    const double sixteenth_in = 1.0 / 16; /* under it the ruler's eighths show nothing */
    double off_in = say->remedy->off_in;
    const char *more = say->question->round ? "larger" : "wider";
    const char *less = say->question->round ? "smaller" : "narrower";

    if (fabs(off_in) < sixteenth_in)
        return met;
    return arena_printf(say->arena, "%s %s than wanted", length(say, fabs(off_in)), off_in > 0 ? more : less);
}

/* "10 1/2 in (26.7 cm), 1/4 in (0.6 cm) wider than wanted" */
static const char *size_words(const struct saying *say)
{
    return arena_printf(say->arena, "%s, %s", length(say, say->remedy->finished_in),
                        off_words(say, say->question->cm_first ? "as wanted to within 2 mm"
                                                               : "as wanted to the nearest 1/8 in"));
}

/* "round 2", "rows 2-4 and 9" */
static const char *rows_words(const struct saying *say, const int *rows, int n)
{
    struct text text = text_create(say->arena);

    text_addf(&text, "%s ", n == 1 ? say->rounds->one : say->rounds->many);
    for (int i = 0, end; i < n; i = end + 1) {
        for (end = i; end + 1 < n && rows[end + 1] == rows[end] + 1;)
            end++;
        text_addf(&text, "%s%d", i == 0 ? "" : say_link(end, n), rows[i] + 1);
        if (end > i)
            text_addf(&text, "-%d", rows[end] + 1);
    }
    return text.bytes;
}

/* "4 at each side edge", "5 after the start of the round and 4 before it"; brief: "3 over at each edge" */
static const char *halves_words(const struct saying *say, bool brief)
{
    int over = say->remedy->left_over, half = over / 2;
    bool round = say->question->round;
    const char *start = brief ? "the start" : "the start of the round", *edge = brief ? "edge" : "side edge";
    const char *more = brief ? " over" : "";

    if (over == 1)
        return round ? arena_printf(say->arena, "%sbeside %s", brief ? "1 over " : "", start)
                     : brief ? "1 over at an edge" : "at one side edge";
    if (over % 2 == 0)
        return arena_printf(say->arena, round ? "%d%s on each side of %s" : "%d%s at each %s", half, more,
                            round ? start : edge);
    return arena_printf(say->arena, round ? "%d%s after %s and %d before it" : "%d%s at one %s and %d at the other",
                        over - half, more, round ? start : edge, half);
}

/* " over 2 rounds: k3, m1, ... (72 + 12 = 84)" */
static const char *shaping_words(const struct saying *say, const struct shaping *shaping, const char *where)
{
    if (!shaping->line)
        return "";
    return arena_printf(say->arena, "%s%s: %s (%s)",
                        shaping->rounds < 2 ? "" : arena_printf(say->arena, " over %d %s", shaping->rounds,
                                                                say->rounds->many),
                        where, shaping->line, shaping->sum);
}

/* --- what to do ------------------------------------------------------------------------- */

/* What is worked before and after, as it is worked. */
static void add_beside(const struct saying *say, struct text *text)
{
    const struct shaping *both[2] = {&say->remedy->before, &say->remedy->after};
    const char *edges = say->question->selvedge_sts > 0 ? " between the edge stitches" : "";
    bool said = false;

    for (int i = 0; i < 2; i++) {
        bool more = both[i]->to > both[i]->from;

        if (both[i]->rounds == 0)
            continue;
        text_addf(text, "%s%s%s", said ? "; " : "",
                  said ? more ? "increase" : "decrease" : more ? "Increase" : "Decrease",
                  i == 0 ? " before the band" : said ? " after it" : " after the band");
        text_add(text, shaping_words(say, both[i], edges));
        said = true;
    }
}

/* Before it is known what is worked there: to the band and back. */
static void add_there_and_back(const struct saying *say, struct work *work, struct text *text)
{
    int body = (int)say->facts->body_sts, band = (int)say->remedy->stitches;
    bool fewer = say->remedy->before_is_decrease;
    struct shaping before, after;

    shaping_spread(work, body, band, say->question->round, &before);
    shaping_spread(work, band, body, say->question->round, &after);
    text_addf(text, "%s before the band%s; %s after it%s", fewer ? "Decrease" : "Increase",
              shaping_words(say, &before, ""), fewer ? "increase" : "decrease", shaping_words(say, &after, ""));
}

static void add_shape(const struct saying *say, struct work *work, struct text *text)
{
    const struct fit_remedy *remedy = say->remedy;

    if (remedy->beside_known)
        add_beside(say, text);
    else
        add_there_and_back(say, work, text);
    text_addf(text, ". The band is %s, %s; the rest keeps %" PRId64 " stitches%s. It takes ", repeats_words(say),
              size_words(say), say->facts->body_sts,
              say->question->selvedge_sts > 0 ? ", edge stitches and all" : "");
    if (remedy->extra_rounds > 0)
        text_addf(text, "%d plain %s more.", remedy->extra_rounds,
                  remedy->extra_rounds == 1 ? say->rounds->one : say->rounds->many);
    else
        text_addf(text, "no %s more: it is done in plain ones that are there.", say->rounds->many);
}

/* " They cut a line of the pattern in chart round 2." Columns left out take a line of one stitch along. */
static void add_torn(const struct saying *say, struct text *text)
{
    const struct fit_remedy *remedy = say->remedy;

    if (remedy->ntorn_rows > 0)
        text_addf(text, " %s a line of the pattern in chart %s.",
                  remedy->kind == FIT_TRIM_OR_PAD   ? "That cuts"
                  : remedy->plain_columns == 1 ? "It cuts"
                                               : "They cut",
                  rows_words(say, remedy->torn_rows, remedy->ntorn_rows));
}

static void add_columns(const struct saying *say, struct text *text)
{
    const struct fit_remedy *remedy = say->remedy;

    text_addf(text, "Work %s more between motifs",
              say_count(say->arena, remedy->plain_columns, "plain column", "plain columns"));
    if (say->question->chart)
        text_addf(text, ", after column %d of the chart", remedy->remake.plain_after);
    text_addf(text, ", %s: %s. Floats that cross the plain columns are longer by %s, %s.", repeats_words(say),
              size_words(say), say_stitches(say->arena, remedy->plain_columns),
              length(say, remedy->plain_columns / remedy->gauge_per_in));
    add_torn(say, text);
}

/* "column 7", "columns 3 and 9, which mirror each other," */
static const char *columns_words(const struct saying *say)
{
    const struct remake *remake = &say->remedy->remake;
    bool two = remake->ncolumns == 2;
    const char *mirror = two                  ? ", which mirror each other,"
                         : remake->one_of_two ? ", one of two alike between which it mirrors,"
                                              : ", on its centre line,";

    if (!say->question->chart)
        return two ? "two columns that mirror each other"
                   : "one column, on the motif's centre line or between motifs,";
    if (!remake->mirrored)
        mirror = "";
    return two ? arena_printf(say->arena, "columns %d and %d of the chart%s", remake->column[0] + 1,
                              remake->column[1] + 1, mirror)
               : arena_printf(say->arena, "column %d of the chart%s", remake->column[0] + 1, mirror);
}

static void add_trim_or_pad(const struct saying *say, struct text *text)
{
    const struct remake *remake = &say->remedy->remake;

    text_addf(text, "%s %s%s in each repeat, %s: %s.", remake->twice ? "Work" : "Leave out", columns_words(say),
              remake->twice ? " twice" : "", repeats_words(say), size_words(say));
    if (say->question->chart && remake->lone_sts > 0)
        text_addf(text, " %s %s.",
                  say_count(say->arena, remake->lone_sts, "stitch that stands alone in its row",
                            "stitches that stand alone in their rows"),
                  remake->twice ? remake->lone_sts == 1 ? "becomes two" : "become two each"
                  : remake->lone_sts == 1 ? "goes with it"
                                          : "go with it");
    add_torn(say, text);
}

static void add_part_repeats(const struct saying *say, struct text *text)
{
    const struct fit_remedy *remedy = say->remedy;

    text_addf(text, "Work the band on %s: centre %s and leave %d over", say_stitches(say->arena, remedy->stitches),
              say_count(say->arena, remedy->repeats, "whole repeat", "whole repeats"), remedy->left_over);
    if (say->question->side_sts > 0)
        text_addf(text, " besides the %s", sides_words(say));
    text_addf(text, ", %s, %s: %s.%s", halves_words(say, false),
              remedy->remake.over_plain ? "plain" : "as part of a motif", size_words(say),
              say->question->round ? " Put the start where it shows least." : "");
}

/* To 4 in, or to 10 cm. */
static const char *over_words(const struct saying *say, double per_in, bool cm)
{
    return say_decimal(say->arena, per_in * (cm ? 10 / 2.54 : 4), 1);
}

static void add_gauge(const struct saying *say, struct text *text)
{
    const struct fit_question *question = say->question;
    bool cm = question->cm_first, several = question->bands > 1;
    double wanted = say->remedy->gauge_per_in, now = rational_double(question->per_in);

    text_addf(text, "Take a %s needle%s: at %s stitches to %s (%s to %s) in place of %s, ",
              wanted > now ? "smaller" : "larger",
              !question->plain_stays ? ""
              : several              ? " for the bands; what is plain stays on its own"
                                     : " for the band; what is plain stays on its own",
              over_words(say, wanted, cm), cm ? "10 cm" : "4 in", over_words(say, wanted, !cm),
              cm ? "4 in" : "10 cm", over_words(say, now, cm));
    text_addf(text, "%s are %s, as wanted; that is %s %% %s. Knit, wash and measure a new swatch first.%s",
              repeats_words(say), length(say, say->remedy->finished_in),
              say_decimal(say->arena, fabs(wanted / now - 1) * 100, 1), wanted > now ? "tighter" : "looser",
              several ? " The other bands move with it." : "");
}

static void add_redraw(const struct saying *say, struct text *text)
{
    int width = say->remedy->repeat_sts;

    text_addf(text, "Redraw the motif %d columns wide in place of %d: %s, %s. ", width, say->question->repeat_sts,
              repeats_words(say), size_words(say));
    if (say->question->redraw)
        text_addf(text, "Type %s --columns %d. ", say->question->redraw, width);
    text_add(text, "What it does to the floats shows when it is drawn.");
}

/* --- what it costs ----------------------------------------------------------------------- */

/* "Longest float: 12 stitches, 1 1/2 in (3.8 cm). Catches: 49 at the fewest, against 42 with the
 * nearest whole repeats." */
static void add_floats(const struct saying *say, struct text *text)
{
    const struct fit_floats *floats = &say->remedy->floats, *now = &say->facts->floats;
    int64_t planned = say->facts->planned_sts;
    bool is_now = say->remedy->kind == FIT_ANOTHER_COUNT && say->remedy->stitches == planned;

    if (!floats->known)
        return;
    text_addf(text, " Longest float: %s, %s. Catches in the band: %s at the fewest",
              say_stitches(say->arena, floats->longest_sts), length(say, floats->longest_in),
              say_grouped(say->arena, floats->catches_fewest));
    if (!is_now && now->known && floats->catches_fewest == now->catches_fewest)
        text_addf(text, ", as many as with %" PRId64 " stitches", planned);
    else if (!is_now && now->known)
        text_addf(text, ", against %s with %" PRId64 " stitches", say_grouped(say->arena, now->catches_fewest),
                  planned);
    text_add(text, ".");
}

/* "It does not pass 12 1/4 in (31.1 cm): it pulls to about 10 in (25.4 cm)." */
static void add_pass(const struct saying *say, struct text *text)
{
    const struct fit_remedy *remedy = say->remedy;

    if (!remedy->must)
        return;
    text_addf(text, " %s %s %s", remedy->kind == FIT_REDRAW ? "With as much of each yarn as now it" : "It",
              remedy->passes ? "passes" : "does not pass", length(say, say->question->must_in));
    if (!remedy->passes)
        text_addf(text, ": it pulls to about %s", length(say, remedy->pulls_to_in));
    text_add(text, ".");
}

static const char *line_of(const struct saying *say, struct work *work)
{
    const struct fit_remedy *remedy = say->remedy;
    struct text text = text_create(say->arena);

    switch (remedy->kind) {
    case FIT_ANOTHER_COUNT:
        text_addf(&text, "Work on %s: %s.", repeats_words(say), size_words(say));
        break;
    case FIT_SHAPE:
        add_shape(say, work, &text);
        break;
    case FIT_PLAIN_COLUMNS:
        add_columns(say, &text);
        break;
    case FIT_TRIM_OR_PAD:
        add_trim_or_pad(say, &text);
        break;
    case FIT_PART_REPEATS:
        add_part_repeats(say, &text);
        break;
    case FIT_ANOTHER_GAUGE:
        add_gauge(say, &text);
        break;
    case FIT_REDRAW:
        add_redraw(say, &text);
        break;
    case FIT_KIND_COUNT:
        break;
    }
    if (remedy->nuneven_rows > 0)
        text_addf(&text, " Chart %s %s no longer one and one.",
                  rows_words(say, remedy->uneven_rows, remedy->nuneven_rows),
                  remedy->nuneven_rows == 1 ? "is" : "are");
    add_floats(say, &text);
    add_pass(say, &text);
    return text.bytes;
}

/* --- in a line ---------------------------------------------------------------------------- */

/* What is done to the chart: "2 after column 12; ", "columns 3 and 9 left out; " */
static void add_deed(const struct saying *say, struct text *text)
{
    const struct fit_remedy *remedy = say->remedy;
    const struct remake *remake = &remedy->remake;

    if (remedy->kind == FIT_PLAIN_COLUMNS)
        text_addf(text, say->question->chart ? "%d after column %d; " : "%d between motifs; ",
                  remedy->plain_columns, remake->plain_after);
    else if (remedy->kind == FIT_TRIM_OR_PAD && say->question->chart)
        text_addf(text, "%s %s; ",
                  remake->ncolumns == 2 ? arena_printf(say->arena, "columns %d and %d", remake->column[0] + 1,
                                                       remake->column[1] + 1)
                                        : arena_printf(say->arena, "column %d", remake->column[0] + 1),
                  remake->twice ? "worked twice" : "left out");
    else if (remedy->kind == FIT_PART_REPEATS)
        text_addf(text, "%s; ", halves_words(say, true));
    else if (remedy->kind == FIT_REDRAW)
        text_addf(text, "drawn %d columns wide in place of %d; ", remedy->repeat_sts, say->question->repeat_sts);
}

/* "; longest float 12, now 10; rounds 2-3 no longer one and one" */
static void add_price(const struct saying *say, struct text *text)
{
    const struct fit_remedy *remedy = say->remedy;
    const struct fit_floats *floats = &remedy->floats, *now = &say->facts->floats;
    bool known = floats->known && now->known;

    if (known && floats->longest_sts != now->longest_sts)
        text_addf(text, "; longest float %d, now %d", floats->longest_sts, now->longest_sts);
    if (known && floats->catches_fewest > now->catches_fewest)
        text_addf(text, "; %s %s, now %s", say_grouped(say->arena, floats->catches_fewest),
                  floats->catches_fewest == 1 ? "catch" : "catches", say_grouped(say->arena, now->catches_fewest));
    if (remedy->ntorn_rows > 0)
        text_addf(text, "; cuts a line in %s", rows_words(say, remedy->torn_rows, remedy->ntorn_rows));
    if (remedy->nuneven_rows > 0)
        text_addf(text, "; %s no longer one and one", rows_words(say, remedy->uneven_rows, remedy->nuneven_rows));
    if (remedy->must && !remedy->passes)
        text_add(text, "; does not pass");
    if (remedy->must && remedy->passes && !stretch_reaches(say->facts->pulls_to_in, say->question->must_in))
        text_addf(text, "; passes %s", length(say, say->question->must_in));
}

static const char *brief_of(const struct saying *say)
{
    const struct fit_remedy *remedy = say->remedy;
    bool cm = say->question->cm_first;
    struct text text = text_create(say->arena);

    add_deed(say, &text);
    text_addf(&text, "%s%s, %s", say_stitches(say->arena, remedy->stitches),
              remedy->kind == FIT_SHAPE ? " in the band" : "", off_words(say, "as wanted"));
    if (remedy->kind == FIT_SHAPE)
        text_addf(&text, "; the rest keeps %" PRId64, say->facts->body_sts);
    if (remedy->kind == FIT_ANOTHER_GAUGE)
        text_addf(&text, ", on a new swatch of %s stitches to %s", over_words(say, remedy->gauge_per_in, cm),
                  cm ? "10 cm" : "4 in");
    add_price(say, &text);
    return text.bytes;
}

void remedy_say(struct work *work, struct fit_answer *answer)
{
    const struct fit_question *question = answer->facts.question;

    for (int i = 0; i < answer->count; i++) {
        struct fit_remedy *remedy = &answer->remedies[i];
        struct saying say = {work->arena, &answer->facts, question, remedy, say_rounds(question->round)};

        remedy->line = line_of(&say, work);
        remedy->brief = brief_of(&say);
    }
}

/* --- why there is none ----------------------------------------------------------------------- */

static const char NO_REPEAT[] = "not one whole repeat goes into the measure";

/* "it comes no nearer 68.89 stitches than whole repeats do, on 72 or 60" */
static const char *no_nearer(struct arena *arena, const struct fit_case *facts)
{
    struct text text = text_create(arena);

    text_add(&text, "it comes no nearer ");
    text_stitches(&text, facts->question->target_sts);
    text_addf(&text, " stitches than whole repeats do, on %" PRId64, facts->above);
    if (facts->below > 0)
        text_addf(&text, " or %" PRId64, facts->below);
    return text.bytes;
}

static const char *why_no_column(struct arena *arena, const struct fit_case *facts, bool twice)
{
    const char *deed = twice ? "worked twice" : "left out";

    if (facts->column_stands[twice])
        return arena_printf(arena, "no column, or pair of columns, can be %s so that the chart still mirrors and its "
                                   "sides still join", deed);
    if (!twice && facts->question->repeat_sts < 4)
        return "the motif is too narrow to leave a column out";
    return arena_printf(arena, "with one column or two %s in each repeat %s", deed, no_nearer(arena, facts));
}

static const char *why_nothing_over(struct arena *arena, const struct fit_case *facts)
{
    if (facts->body_sts < facts->question->side_sts + (int64_t)facts->question->repeat_sts)
        return NO_REPEAT;
    if (facts->question->nshared > 0)
        return "no count nearer than whole repeats goes into the bands that share it";
    if (facts->body_sts > GRID_SIDE_MAX)
        return arena_printf(arena, "the whole round would be one chart of %" PRId64 " stitches, wider than a chart "
                                   "may be", facts->body_sts);
    return arena_printf(arena, "with the %" PRId64 " stitches beside it nothing is over", facts->body_sts);
}

/* How far the nearest whole repeats would have to move the gauge. */
static const char *why_no_gauge(struct arena *arena, const struct fit_case *facts)
{
    double target = rational_double(facts->question->target_sts);
    double above = (double)facts->above / target - 1.0, below = 1.0 - (double)facts->below / target;
    double least = facts->below > 0 && below < above ? below : above;

    return arena_printf(arena, "another needle moves a gauge by %s %% at the most, and whole repeats ask for %s %%",
                        say_decimal(arena, facts->question->gauge_reach * 100.0, 1),
                        say_decimal(arena, least * 100.0, 1));
}

static const char *why_no_redraw(struct arena *arena, const struct fit_case *facts)
{
    int own = facts->question->repeat_sts, most = (int)(facts->question->redraw_ratio * own);

    if (most < 1)
        return arena_printf(arena, "a motif of %d stitches is too narrow to be drawn a little wider or narrower", own);
    return arena_printf(arena, "drawn %d to %d columns wide, beyond which it would be another motif, it comes within "
                               "%s %% of the measure at no width",
                        own - most, own + most, say_decimal(arena, facts->question->near_ratio * 100.0, 1));
}

static const char *why_no_shaping(const struct fit_question *question)
{
    if (question->nshared > 0)
        return "a band above takes its count, and shaping would part them";
    if (question->shaped_already)
        return "the parts beside it have counts of their own, and it is shaped from and to them as it is";
    return "there is nothing beside it to shape from and back to";
}

const char *remedy_why_not(struct work *work, const struct fit_case *facts, enum fit_kind kind, bool twice)
{
    const struct fit_question *question = facts->question;

    switch (kind) {
    case FIT_SHAPE:
        return why_no_shaping(question);
    case FIT_PLAIN_COLUMNS:
        if (rational_floor(question->target_sts) < question->side_sts + (int64_t)question->repeat_sts)
            return NO_REPEAT;
        return arena_printf(work->arena, "with plain stitches between as many motifs as go in, or one fewer, %s",
                            no_nearer(work->arena, facts));
    case FIT_TRIM_OR_PAD:
        return why_no_column(work->arena, facts, twice);
    case FIT_PART_REPEATS:
        return why_nothing_over(work->arena, facts);
    case FIT_ANOTHER_GAUGE:
        return why_no_gauge(work->arena, facts);
    case FIT_REDRAW:
        return why_no_redraw(work->arena, facts);
    case FIT_ANOTHER_COUNT:
    case FIT_KIND_COUNT:
        break;
    }
    return "there is no other count that suits";
}
