/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The whole run: a project and its chart (c.chart), a form feed between them, planned and
 * written in every form. What is planned must agree with itself in a few plain ways.
 */
#include <string.h>

#include "run.h"
#include "base/diag.h"
#include "fuzz.h"
#include "render/render.h"

static void check_plan(const struct plan *plan)
{
    FUZZ_HOLDS(plan->piece.cast_on.stitches > 0);
    for (int i = 0; i < plan->piece.nbands; i++) {
        const struct plan_band *band = &plan->piece.bands[i];

        FUZZ_HOLDS(band->repeats >= 1 && band->leave_sts >= 1);
        FUZZ_HOLDS(band->stitches == band->repeats * band->repeat_sts);
        FUZZ_HOLDS(band->catches_repeat >= band->catches_fewest_repeat);
    }
    for (int i = 0; i < plan->piece.nyarns; i++) {
        const struct plan_yarn *yarn = &plan->piece.yarns[i];

        FUZZ_HOLDS(yarn->length_m >= 0);
        FUZZ_HOLDS(!yarn->has_ball || yarn->buy.left_m > -1e-6);
        FUZZ_HOLDS(!yarn->used || (yarn->likely.low_m <= yarn->length_m &&
                                   yarn->likely.high_m >= yarn->length_m));
        FUZZ_HOLDS(yarn->likely.sure_balls >= 0 && yarn->likely.sure_chance >= 0);
        for (int k = 0; k < yarn->likely.nenough; k++)
            FUZZ_HOLDS(yarn->likely.enough[k].balls >= (yarn->have_m > 0 ? 0 : 1) &&
                       yarn->likely.enough[k].chance >= 0 &&
                       yarn->likely.enough[k].chance <= 1);
    }
}

static void render_all(struct work *work, const struct plan *plan)
{
    struct words_style plain = {.width = 80}, rich = {.width = 40, .colour = true, .utf8 = true};
    struct text out = text_create(work->arena);

    render_report(work, plan, &plain, &out);
    render_report(work, plan, &rich, &out);
    render_directions(work, plan, &plain, &out);
    render_json(plan, &out);
    FUZZ_HOLDS(out.length > 0 && strlen(out.bytes) == out.length);
}

static void body(struct work *work, const uint8_t *data, size_t size)
{
    const uint8_t *cut = size ? memchr(data, '\f', size) : NULL;
    size_t head = cut ? (size_t)(cut - data) : size;
    const struct plan *plan = NULL;
    const char *path;
    int count = 0;

    fuzz_file("c.chart", cut ? cut + 1 : data, cut ? size - head - 1 : 0);
    path = fuzz_file("project.ini", data, head);
    if (run_plan(work, path, &plan) == RUN_DONE) {
        FUZZ_HOLDS(plan != NULL);
        check_plan(plan);
        render_all(work, plan);
    } else {
        FUZZ_HOLDS(diagnostics_fatal(work->diagnostics));
    }
    (void)diagnostics_sorted(work->diagnostics, &count);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fuzz_run(body, data, size);
    return 0;
}
