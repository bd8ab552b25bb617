#pragma once
/// Unpacks bzip2 for libosmium in place of its own reader.
///
/// That one (2.19) refuses whole files whose length is a multiple of 5000 bytes: it asks bzlib for another stream when
/// the last one ended exactly with a full buffer.

namespace routing::roads {

/// Makes libosmium read .bz2 through us. Cheap to call again; call before the first reading. Files of several streams
/// one after the other are read to their end.
void use_our_bzip2_input();

} // namespace routing::roads
