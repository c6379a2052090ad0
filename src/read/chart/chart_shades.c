/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_shades.h"

#include "base/arena.h"
#include "base/shade.h"
#include "chart_parts.h"

enum {
    COLOURS_FIRST = 64, /* room to begin with, doubled as they come; a power of two */
    COLOURS_NAMED_MAX = 3
};

static uint32_t rgb_pack(const unsigned char rgb[3])
{
    return (uint32_t)rgb[0] << 16 | (uint32_t)rgb[1] << 8 | (uint32_t)rgb[2];
}

struct chart_shades *chart_shades_create(struct arena *arena, const struct project *project)
{
    struct chart_shades *s = arena_alloc(arena, 1, sizeof *s);

    s->arena = arena;
    s->project = project;
    for (int i = 0; i < project->nyarns && s->count < GRID_YARNS_MAX; i++) {
        const struct yarn *yarn = &project->yarns[i];
        struct chart_shade *shade = &s->shade[s->count];

        if (!yarn->shade.text)
            continue;
        shade->yarn = (uint8_t)i;
        shade->rgb = rgb_pack(yarn->rgb);
        shade_lab(yarn->rgb, shade->lab);
        s->count++;
    }
    s->room = COLOURS_FIRST;
    s->colour = arena_alloc(arena, (size_t)s->room, sizeof *s->colour);
    s->slot = arena_alloc(arena, 2 * (size_t)s->room, sizeof *s->slot);
    return s;
}

static int shade_nearest(const struct chart_shades *s, const unsigned char rgb[3])
{
    double lab[3], nearest = 0;
    int best = 0;

    shade_lab(rgb, lab);
    for (int i = 0; i < s->count; i++) {
        double difference = shade_difference(lab, s->shade[i].lab);

        if (i == 0 || difference < nearest) {
            nearest = difference;
            best = i;
        }
    }
    return best;
}

/* Where the colour is, or the free slot it would go to. */
static uint32_t *slot_find(const struct chart_shades *s, uint32_t rgb)
{
    uint32_t slots = 2 * (uint32_t)s->room, at = (rgb * 2654435761u >> 8) & (slots - 1);

    while (s->slot[at] != 0 && s->colour[s->slot[at] - 1].rgb != rgb)
        at = (at + 1) & (slots - 1);
    return &s->slot[at];
}

static void room_double(struct chart_shades *s)
{
    size_t room = (size_t)s->room;

    s->colour = arena_grow(s->arena, s->colour, room, 2 * room, sizeof *s->colour);
    s->slot = arena_alloc(s->arena, 4 * room, sizeof *s->slot);
    s->room *= 2;
    for (int i = 0; i < s->ncolours; i++)
        *slot_find(s, s->colour[i].rgb) = (uint32_t)i + 1;
}

/* The colour's entry; NULL when there are more of them than a chart has. */
static struct chart_colour *colour_find(struct chart_shades *s, const unsigned char rgb[3])
{
    uint32_t packed = rgb_pack(rgb), *slot = slot_find(s, packed);

    if (*slot != 0)
        return &s->colour[*slot - 1];
    if (s->ncolours == CHART_COLOURS_MAX) {
        s->too_many = true;
        return NULL;
    }
    if (s->ncolours == s->room) {
        room_double(s);
        slot = slot_find(s, packed);
    }
    s->colour[s->ncolours++] = (struct chart_colour){packed, shade_nearest(s, rgb), 0};
    *slot = (uint32_t)s->ncolours;
    return &s->colour[s->ncolours - 1];
}

/* On white paper. */
static unsigned char on_white(unsigned char channel, unsigned char alpha)
{
    return (unsigned char)((channel * alpha + 255 * (255 - alpha) + 127) / 255);
}

int chart_shades_match(struct chart_shades *shades, const unsigned char pixel[4])
{
    unsigned char rgb[3];
    struct chart_colour *colour;

    if (pixel[3] == 0)
        return shades->count;
    for (int i = 0; i < 3; i++)
        rgb[i] = pixel[3] == 255 ? pixel[i] : on_white(pixel[i], pixel[3]);
    colour = colour_find(shades, rgb);
    if (!colour)
        return -1;
    colour->pixels++;
    return colour->shade;
}

static bool is_merged(const struct chart_shades *s, int colour, int shade)
{
    return s->colour[colour].shade == shade && s->colour[colour].rgb != s->shade[shade].rgb;
}

/* The most frequent merged colours, at most COLOURS_NAMED_MAX. Returned: how many there are. */
static int merged_find(const struct chart_shades *s, int shade, int best[COLOURS_NAMED_MAX])
{
    int count = 0;

    for (int i = 0; i < s->ncolours; i++) {
        int at;

        if (!is_merged(s, i, shade))
            continue;
        for (at = count < COLOURS_NAMED_MAX ? count : COLOURS_NAMED_MAX;
             at > 0 && s->colour[best[at - 1]].pixels < s->colour[i].pixels; at--)
            if (at < COLOURS_NAMED_MAX)
                best[at] = best[at - 1];
        if (at < COLOURS_NAMED_MAX)
            best[at] = i;
        count++;
    }
    return count;
}

static const char *merged_list(const struct chart_shades *s, int shade)
{
    int best[COLOURS_NAMED_MAX], count = merged_find(s, shade, best);
    const char *list = "";

    for (int i = 0; i < count && i < COLOURS_NAMED_MAX; i++)
        list = arena_printf(s->arena, "%s%s#%06x", list, i > 0 ? ", " : "",
                            (unsigned)s->colour[best[i]].rgb);
    if (count == 0)
        return "";
    if (count > COLOURS_NAMED_MAX)
        return arena_printf(s->arena, " (from %s and %d more)", list, count - COLOURS_NAMED_MAX);
    return arena_printf(s->arena, " (from %s)", list);
}

const char *chart_shades_list(const struct chart_shades *shades, const int64_t *stitches)
{
    const char *list = "";

    for (int i = 0; i < shades->count; i++)
        list = arena_printf(shades->arena, "%s%s%s %s%s", list, i > 0 ? "; " : "",
                            shades->project->yarns[shades->shade[i].yarn].name,
                            chart_count(shades->arena, (long)stitches[i], "stitch", "stitches"),
                            merged_list(shades, i));
    return list;
}

const char *chart_shades_twins(const struct chart_shades *shades)
{
    const char *sentences = "";

    for (int i = 0; i < shades->count; i++)
        for (int j = 0; j < i; j++) {
            const char *first = shades->project->yarns[shades->shade[j].yarn].name;

            if (shades->shade[i].rgb != shades->shade[j].rgb)
                continue;
            sentences = arena_printf(
                shades->arena, "%s %s has the shade of %s: all such stitches went to %s.",
                sentences, shades->project->yarns[shades->shade[i].yarn].name, first, first);
            break;
        }
    return sentences;
}
