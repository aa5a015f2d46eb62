// The Session place in every state, worded as the app words it: the evening of the drawings.
#pragma once

#include <vector>

#include "kit/screen_kit.h"

namespace slipway::kit {

screens::SessionView circuit_session();    // 01a: three movements, three rounds, A1 round 2 is next
screens::SessionView resting_session();    // 01b: 37 seconds to go, then A2
screens::SessionView rested_session();     // 01i: Go
screens::SessionView last_set_session();   // two main keys: the reserve inside the tap
screens::SessionView warming_up_session();
screens::SessionView swapped_session();    // 01e: changed, swapped, held, crossed out, waits
screens::SessionView reason_session();     // the whole reason
screens::SessionView changing_circuit();   // 01c with side, form and another exercise
screens::SessionView swapping_session();
screens::SessionView pain_session();       // 01d: shoulder kept, nothing more open
screens::SessionView pain_asked_session();
screens::SessionView in_gloves(screens::SessionView view, bool left = false); // with side, number and last Monday's question
screens::SessionView stopped_session();    // a red flag
screens::SessionView sore_session();       // 01h: five days and more, since when
screens::SessionView checking_session();   // before: the check and the adult
screens::SessionView check_beside_session();  // the check above the next set
screens::SessionView finish_session();     // 01f: effort 5 chosen
screens::SessionView short_finish_session();  // nothing chosen yet, and short
screens::SessionView all_done_session();   // Finish is the main key
screens::SessionView coming_session();     // after it: what comes next and why
screens::SessionView empty_session();      // 05c: the board is clean
screens::SessionView refused_session();    // G01: no session
screens::SessionView moved_session();      // G09: the fallback first, the move second
screens::SessionView lacking_session();    // body mass missing, one quiet panel above the next set

std::vector<NamedPage> session_pages();

}  // namespace slipway::kit
