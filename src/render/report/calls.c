/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What would put a close call right, and where an odd ball hardly shows.
 */
#include "report.h"

enum { SAY_AT = 2, CHANGE_AT = 4 };

static const char *step_words(const struct page *page, const struct plan_change *change)
{
    const struct plan_step *step = &page->plan->piece.steps[change->step];

    return *step->name ? words_format(page, "%s %s", step->kind == STEP_BAND ? "band" : "part",
                                      step->name)
                       : words_format(page, "step %d", change->step + 1);
}

static const char *change_words(const struct page *page, const struct plan_change *change)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool rib = piece->cast_on.has_rib && piece->yarns[change->yarn].use_m[USE_RIB] > 0.0;

    switch (change->kind) {
    case CHANGE_ROUNDS:
        return words_format(page, "%s fewer in %s%s", words_rounds(page, change->rounds),
                            step_words(page, change),
                            page->plan->make > 1 ? " of each piece" : "");
    case CHANGE_UPWARDS:
        return words_format(page, "%s once less upwards", step_words(page, change));
    case CHANGE_REPEATS:
        return words_format(page, "%s with one repeat less, %s, which comes out at %s%s",
                            step_words(page, change),
                            words_count(page, change->stitches, "stitch", "stitches"),
                            words_length(page, change->finished_in),
                            change->has_wanted && change->smaller_in > 0.0
                                ? words_format(page, ", %s smaller than wanted",
                                               words_length(page, change->smaller_in))
                                : "");
    case CHANGE_CAST_ON:
        return words_format(page, "the cast-on%s in %s", rib ? " and its rib" : "",
                            words_yarn(page, change->other));
    case CHANGE_SWATCH:
        return "the swatch ripped and its yarn knitted";
    case CHANGE_BIND_OFF:
        break;
    }
    return words_format(page, "the bind-off in %s", words_yarn(page, change->other));
}

static void say_change(const struct page *page, const struct plan_change *change)
{
    const struct plan_yarn *yarn = &page->plan->piece.yarns[change->yarn];
    const char *then =
        change->buy.balls == 0 ? "nothing to buy"
        : change->buy.balls < yarn->buy.balls
            ? words_format(page, "%s, not %s",
                           words_count(page, change->buy.balls, "ball", "balls"),
                           words_grouped(page, yarn->buy.balls))
            : words_format(page, "%s of the last ball", words_percent(page, change->buy.last_used));

    page_item(page, CHANGE_AT, "-",
              words_format(page, "%s: saves %s; then %s.", change_words(page, change),
                           words_yarn_length(page, change->saved_m), then));
}

void report_changes(const struct page *page, int yarn)
{
    const struct plan *plan = page->plan;
    bool any = false;

    if (plan->piece.yarns[yarn].close_call == CALL_NONE)
        return;
    for (int i = 0; i < plan->nchanges; i++) {
        if (plan->changes[i].yarn != yarn)
            continue;
        if (!any)
            page_say(page, CHANGE_AT,
                     plan->piece.yarns[yarn].close_call == CALL_HARDLY_TOUCHED
                         ? "Each of these alone would save that ball:"
                         : "Each of these alone would leave room to spare:");
        any = true;
        say_change(page, &plan->changes[i]);
    }
    if (!any && plan->piece.yarns[yarn].close_call == CALL_HARDLY_TOUCHED &&
        plan->piece.yarns[yarn].likely.sure_balls >= plan->piece.yarns[yarn].buy.balls)
        page_say(page, CHANGE_AT,
                 "No plain part a quarter shorter, band once less upwards, repeat less or edge in "
                 "another yarn would save it.");
}

static const char *hidden_words(const struct page *page, const struct plan_yarn *yarn)
{
    const struct plan_piece *piece = &page->plan->piece;
    struct text words = text_create(page->work->arena);
    bool first = true;

    text_addf(&words, "%s: a ball of another dye lot hardly shows in", yarn->name);
    for (int i = 0; i < piece->nbands; i++)
        if (yarn->hide_bands >> i & 1) {
            text_addf(&words, "%s band %s", first ? "" : ",", piece->bands[i].name);
            first = false;
        }
    text_add(&words, ", among other yarns and apart from the rest of its own.");
    return words.bytes;
}

void report_odd_balls(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    int nowhere[GRID_YARNS_MAX], n = 0;

    for (int i = 0; i < piece->nyarns; i++) {
        if (piece->yarns[i].hide_bands)
            page_say(page, SAY_AT, hidden_words(page, &piece->yarns[i]));
        else if (piece->yarns[i].may_differ)
            nowhere[n++] = i;
    }
    if (n > 0)
        page_sayf(page, SAY_AT,
                  "%s: no band hides a ball of another dye lot; if there is one, alternate two %s "
                  "of each lot.",
                  words_yarns(page, nowhere, n), page->plan->round ? "rounds" : "rows");
}
