/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The charts proof-read, in words.
 */
#ifndef STRANDWISE_PROOF_WORDS_H
#define STRANDWISE_PROOF_WORDS_H

#include "base/text.h"
#include "plan/motif/proofread.h"
#include "render/render.h"

void render_proofreading(struct work *work, const struct plan *plan, const struct project *project,
                         const struct proofreading *read, const struct words_style *style,
                         struct text *out);

#endif
