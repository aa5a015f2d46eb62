// Who is at this device: the list that somebody is chosen from, and what stands before it on a shared tablet.
#pragma once

#include <string>
#include <vector>

#include "app/desk.h"

namespace slipway::app {

struct Person {
  model::ScopeId scope;
  std::string label;  // of the key that chooses them
};

// Everybody in sight by name, then whoever is sealed and shut, as sealed.
std::vector<Person> everybody(Desk& desk);
// The list as a question; chosen: whoever is here.
screens::FormPart everybody_part(Desk& desk, screens::Setting id);

// Sealed by a passphrase and shut, by name.
std::vector<Book::SealedProfile> shut_profiles(Desk& desk);

// A shared tablet whose PIN was not given: what it is used for, and whom it forgets, waits for that alone.
bool tablet_is_locked(Desk& desk);

}  // namespace slipway::app
