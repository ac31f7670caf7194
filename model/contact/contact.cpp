#include "model/contact/contact.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "model/base/random.h"
#include "model/contact/reach.h"
#include "model/contact/separation.h"

namespace bedshade {
namespace {

using Distances = std::array<double, kSegments>;

double least(const Distances& distance_m) {
    return *std::min_element(distance_m.begin(), distance_m.end());
}

/// Fraction of an outline within reach; at least one corner.
double share_within(const Distances& distance_m, double reach_m) {
    const auto within =
        std::count_if(distance_m.begin(), distance_m.end(), [&](double d) { return d <= reach_m; });
    return static_cast<double>(std::max<std::ptrdiff_t>(within, 1)) / kSegments;
}

/// Whether the upper body's outline contains the other's centre, and its rim is higher.
bool covers(const ColonyBody& upper, const ColonyBody& lower) {
    const Vec3 lower_rim = lower.to_tank_m({0.0, 0.0, lower.profile().rim_z_m});
    const Vec3 p = upper.to_upright_m(lower_rim);
    return upper.relative_radius(p.head<2>()) <= 1.0 && p.z() < upper.profile().rim_z_m;
}

/// One colony of a pair.
struct Contestant {
    int colony;
    const ColonyBody& body;
    const Rim& rim;
    const Taxon& taxon;
    Reach reach;
    Distances distance_m{};  ///< of its corners from the other
};

ContactKind kind_of(const Contestant& winner, const Contestant& loser, double gap_m) {
    if (gap_m <= winner.reach.touch_m)
        return covers(winner.body, loser.body) ? ContactKind::overgrowth : ContactKind::touch;
    return gap_m <= winner.reach.polyps_m ? ContactKind::polyps : ContactKind::sweepers;
}

void decide(Contact& contact, const Contestant& winner, const Contestant& loser) {
    contact.winner = winner.colony;
    contact.loser = loser.colony;
    contact.kind = kind_of(winner, loser, contact.gap_m);
    contact.loss_mm_d = kContactLoss_mm_d;
    contact.touched = share_within(loser.distance_m, winner.reach.most_m());
    contact.depth_m = contact.kind == ContactKind::overgrowth
                          ? loser.rim.radius_m
                          : winner.reach.most_m() - contact.gap_m;
}

/// Computes the distances of two colonies; those over `limit_m` are only lower bounds.
void measure(Contestant& a, Contestant& b, double limit_m) {
    a.distance_m = distances_m(a.rim, b.body, b.rim, limit_m);
    b.distance_m = distances_m(b.rim, a.body, a.rim, limit_m);
}

Contact contact_between(const Contestant& a, const Contestant& b) {
    Contact contact;
    contact.a = std::min(a.colony, b.colony);
    contact.b = std::max(a.colony, b.colony);
    contact.gap_m = std::min(least(a.distance_m), least(b.distance_m));
    return contact;
}

double search_distance_m(const Contestant& a, const Contestant& b) {
    const auto range_m = [](const Contestant& from, const Contestant& on) {
        return tolerates_allelopathy(on.taxon) ? 0.0 : from.taxon.allelopathy_m;
    };
    return std::max({a.reach.most_m(), b.reach.most_m(), range_m(a, b), range_m(b, a)});
}

/// Allelopathy of one colony on another that is near and not tolerant.
std::optional<Contact> allelopathy_of(const Contestant& from, const Contestant& on, double sample) {
    if (from.taxon.allelopathy_m <= 0.0 || tolerates_allelopathy(on.taxon) ||
        sample >= kAllelopathyChance)
        return std::nullopt;
    Contact contact = contact_between(from, on);
    if (contact.gap_m > from.taxon.allelopathy_m) return std::nullopt;
    contact.winner = from.colony;
    contact.loser = on.colony;
    contact.kind = ContactKind::chemistry;
    contact.touched = share_within(on.distance_m, from.taxon.allelopathy_m);
    contact.depth_m = from.taxon.allelopathy_m - contact.gap_m;
    contact.loss_mm_d = kAllelopathyLoss_mm_d;
    return contact;
}

std::optional<Contact> contact_of(const Contestant& a, const Contestant& b, double sample) {
    Contact contact = contact_between(a, b);
    if (contact.gap_m > std::max(a.reach.most_m(), b.reach.most_m())) return std::nullopt;
    contact.chance_a_wins = win_probability(a.taxon.sting_rank, b.taxon.sting_rank);
    contact.kind = a.reach.most_m() >= b.reach.most_m() ? kind_of(a, b, contact.gap_m)
                                                        : kind_of(b, a, contact.gap_m);
    if (sample < contact.chance_a_wins && a.reach.most_m() >= contact.gap_m)
        decide(contact, a, b);
    else if (sample > contact.chance_a_wins && b.reach.most_m() >= contact.gap_m)
        decide(contact, b, a);
    return contact;
}

double farthest_reach_m(const Layout& layout) {
    double reach_m = 0.0, overhang_m = 0.0;
    for (const Taxon& taxon : layout.taxa) {
        reach_m = std::max(reach_m, std::max(taxon.reach_polyps_m, taxon.reach_sweepers_m));
        reach_m = std::max(reach_m, taxon.allelopathy_m);
        overhang_m = std::max(overhang_m, taxon.overhang_m);
    }
    return std::max(reach_m, 2.0 * overhang_m + kTouch_m);
}

}  // namespace

double win_probability(double rank_a, double rank_b) {
    constexpr double kScale = 15.0;
    return 1.0 / (1.0 + std::exp((rank_b - rank_a) / kScale));
}

bool tolerates_allelopathy(const Taxon& taxon) {
    return taxon.allelopathy_m > 0.0 || taxon.form == Form::mat;
}

double contact_sample(std::uint64_t seed, std::uint32_t member, int a, int b) {
    if (member == 0) return 0.5;
    const auto pair = static_cast<std::uint32_t>(a) << 16 | static_cast<std::uint32_t>(b);
    return RandomStream(seed, member, Process::contact, 0, pair).uniform();
}

std::vector<Contact> find_contacts(const Surroundings& around, const Reef& reef, std::uint64_t seed,
                                   std::uint32_t member) {
    const Layout& layout = around.layout();
    const double farthest_m = farthest_reach_m(layout);
    // Its body, or null without tissue.
    const auto living = [&](int c) -> const ColonyBody* {
        return has_tissue(reef.colonies[static_cast<std::size_t>(c)]) ? around.body(c) : nullptr;
    };
    std::vector<std::optional<Rim>> rim(reef.colonies.size());
    const int colonies = around.colony_count();
    for (int c = 0; c < colonies; ++c)
        if (const ColonyBody* body = living(c)) rim[static_cast<std::size_t>(c)] = rim_of(*body);
    const auto contestant = [&](int c, const ColonyBody& body, const Taxon& taxon,
                                const Taxon& other) -> Contestant {
        return {c, body, *rim[static_cast<std::size_t>(c)], taxon, reach_of(taxon, other)};
    };
    const auto taxon_of = [&](int c) -> const Taxon& {
        return layout.taxon_of(layout.colonies[static_cast<std::size_t>(c)]);
    };
    std::vector<Contact> contacts;
    for (int a = 0; a < colonies; ++a) {
        const ColonyBody* body_a = living(a);
        if (!body_a) continue;
        for (const int b : around.colonies_near(grown(body_a->bounds(), farthest_m))) {
            const ColonyBody* body_b = living(b);
            if (b <= a || !body_b || taxon_of(a).id == taxon_of(b).id) continue;
            Contestant one = contestant(a, *body_a, taxon_of(a), taxon_of(b)),
                       other = contestant(b, *body_b, taxon_of(b), taxon_of(a));
            measure(one, other, search_distance_m(one, other));
            if (const auto met = contact_of(one, other, contact_sample(seed, member, a, b)))
                contacts.push_back(*met);
            // Two allelopathic colonies tolerate each other.
            const bool from_one = one.taxon.allelopathy_m > 0.0;
            if (!from_one && other.taxon.allelopathy_m <= 0.0) continue;
            // Sampled independently of the contact by tentacles.
            if (const auto harm = allelopathy_of(from_one ? one : other, from_one ? other : one,
                                                 contact_sample(seed, member, b, a)))
                contacts.push_back(*harm);
        }
    }
    return contacts;
}

}  // namespace bedshade
