/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * strandwise ladder: the same chart and measure from fine yarn to heavy.
 */
#include <string.h>

#include "base/work.h"
#include "command.h"
#include "render/render.h"

enum run_status command_ladder(struct work *work, const struct arguments *arguments)
{
    const struct plan *plan = NULL;
    struct words_style style = {.width = 80,
                                 .colour = arguments->colour_out && !arguments->out_path};
    struct text text = text_create(work->arena);
    bool json = arguments->as ? strcmp(arguments->as, "json") == 0
                              : command_name_ends(arguments, "json");
    enum run_status status;

    if (arguments->as && !json && strcmp(arguments->as, "text") != 0)
        return command_usage("--as takes text or json here, not %s.", arguments->as);
    if (command_refuses_name(arguments, "a ladder", "txt or json"))
        return RUN_USAGE;
    status = run_ladder(work, arguments->word[0], &plan);
    if (status != RUN_DONE)
        return status;
    if (json)
        render_json(plan, &text);
    else
        render_ladder(work, plan, &style, &text);
    return command_put(work, arguments, &text);
}
