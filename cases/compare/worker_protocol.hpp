// What the owner of a crew and its first worker agree on.
#pragma once

namespace hangtrue
{

/// Names how many copies of itself the first worker is asked for, in its environment.
constexpr const char* followers_asked = "HANGTRUE_FOLLOWERS";

/// More are not copied but started.
constexpr int most_followers = 63;

/// Open files of the first worker that are the two ends of follower `k`, from 0: what it reads and
/// what it writes.
constexpr int follower_reads(int k)
{
  return 3 + 2 * k;
}
/// The other end of the two.
constexpr int follower_writes(int k)
{
  return 4 + 2 * k;
}

/// Stands before a number that was not done, with the reason behind it in the same line.
constexpr char lost_mark = '!';

/// A follower says this and its process number before anything else.
constexpr char follower_mark = '+';

} // namespace hangtrue
