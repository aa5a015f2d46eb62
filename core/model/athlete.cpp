#include "model/athlete.h"

namespace slipway::model {

bool SetDone::as_written() const {
  if (left_out || !written_reps || reps.empty()) return false;
  if (*reps.first() != *written_reps) return false;
  if (!written_load) return load.empty();
  return !load.empty() && grams(*load.first()) == grams(*written_load);
}

}  // namespace slipway::model
