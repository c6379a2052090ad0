/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * strandwise lesson: a sheet for a class.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "command.h"
#include "render/paper/pages.h"

enum run_status command_lesson(struct work *work, const struct arguments *arguments)
{
    const struct plan *plan = NULL;
    const struct plan_band **bands;
    struct text text = text_create(work->arena);
    int nbands = 0;
    enum run_status status;

    if (command_refuses_name(arguments, "a lesson", "pdf") || command_refuses_pdf(arguments))
        return RUN_USAGE;
    status = run_plan(work, arguments->word[0], &plan);
    if (status != RUN_DONE)
        return status;
    bands = arena_alloc(work->arena, (size_t)plan->piece.nbands + 1, sizeof *bands);
    for (int i = 0; i < plan->piece.nbands; i++)
        if (!arguments->band || strcmp(plan->piece.bands[i].name, arguments->band) == 0)
            bands[nbands++] = &plan->piece.bands[i];
    if (nbands == 0)
        return command_unknown_band(work, plan, arguments->band ? arguments->band : "");
    if (pages_lesson(work, plan, bands, nbands, &text) != 0)
        return RUN_FILE;
    return command_put(work, arguments, &text);
}
