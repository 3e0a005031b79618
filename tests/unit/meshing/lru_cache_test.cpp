// SPDX-License-Identifier: GPL-3.0-or-later
// A cache of the values used last: what is found again, what goes first, and two threads at once.
#define BOOST_TEST_MODULE lru_cache
#include "meshing/common/lru_cache.hpp"

#include <boost/test/unit_test.hpp>

#include <atomic>
#include <memory>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

using namespace hangtrue;

namespace
{

using Words = LruCache<int, std::string>;

} // namespace

BOOST_AUTO_TEST_CASE(the_least_recently_used_goes_first)
{
  std::vector<int> gone;
  Words cache({.count = 3}, {}, [&](int key, const std::string&) { gone.push_back(key); });
  for (const int key : {1, 2, 3})
    cache.insert(key, std::to_string(key));
  BOOST_TEST((cache.find(1) == "1")); // used: 2 is the next to go
  cache.insert(4, "4");
  cache.insert(5, "5");
  BOOST_TEST((gone == std::vector<int>{2, 3}));
  BOOST_TEST((cache.values() == std::vector<std::string>{"1", "4", "5"}));
  BOOST_TEST(!cache.find(2));
  BOOST_TEST((cache.latest_if([](int key, const std::string&) { return key < 5; }) == "4"));
  cache.insert(6, "6"); // the look above used nothing
  BOOST_TEST((gone == std::vector<int>{2, 3, 1}));
}

BOOST_AUTO_TEST_CASE(an_equal_key_takes_the_place_of_the_old_one)
{
  std::vector<std::string> gone;
  Words cache({.count = 2}, {}, [&](int, const std::string& word) { gone.push_back(word); });
  cache.insert(1, "old");
  cache.insert(2, "two");
  cache.insert(1, "new");
  BOOST_TEST((gone == std::vector<std::string>{"old"}));
  BOOST_TEST((cache.values() == std::vector<std::string>{"two", "new"}));
}

// Entries that grow in the cache count as they are when room is made.
BOOST_AUTO_TEST_CASE(bytes_are_held_by_making_room)
{
  using Grown = std::shared_ptr<std::vector<char>>;
  int gone = 0;
  LruCache<int, Grown> cache(
      {.bytes = 100}, [](int, const Grown& v) { return v->size(); },
      [&](int, const Grown&) { ++gone; });
  for (const int key : {1, 2, 3})
    cache.insert(key, std::make_shared<std::vector<char>>(30));
  cache.make_room();
  BOOST_TEST(cache.bytes() == 90U);
  BOOST_TEST(gone == 0);
  (*cache.find(1))->resize(80); // used and grown: 2 and 3 go
  cache.make_room();
  BOOST_TEST(gone == 2);
  BOOST_TEST(cache.bytes() == 80U);
  cache.set_limits({.bytes = 10});
  BOOST_TEST(cache.size() == 1U);
  cache.make_room();
  BOOST_TEST(cache.size() == 0U);
}

BOOST_AUTO_TEST_CASE(what_is_taken_is_not_evicted)
{
  int gone = 0;
  Words cache({}, {}, [&](int, const std::string&) { ++gone; });
  cache.insert(1, "one");
  auto word = cache.take(1);
  BOOST_REQUIRE(word.has_value());
  BOOST_TEST(!cache.take(1));
  BOOST_TEST(gone == 0);
  cache.insert(1, *word);
  BOOST_TEST((cache.find(1) == "one"));
  cache.insert(2, "two");
  cache.erase_if([](int key, const std::string&) { return key == 1; });
  BOOST_TEST(gone == 1);
  BOOST_TEST((cache.values() == std::vector<std::string>{"two"}));
  cache.clear();
  BOOST_TEST(gone == 2);
  BOOST_TEST(cache.size() == 0U);
}

// One cache lives on what another holds: the hook may use both.
BOOST_AUTO_TEST_CASE(the_hook_may_use_caches)
{
  Words users;
  Words* own = nullptr;
  Words cache({.count = 1}, {}, [&](int key, const std::string&) {
    users.erase_if([key](int of, const std::string&) { return of == key; });
    BOOST_TEST(own->size() <= 1U);
  });
  own = &cache;
  users.insert(1, "of one");
  users.insert(2, "of two");
  cache.insert(1, "one");
  cache.insert(2, "two");
  BOOST_TEST((users.values() == std::vector<std::string>{"of two"}));
}

BOOST_AUTO_TEST_CASE(keys_are_equal_by_content)
{
  struct SameText {
    bool operator()(const std::shared_ptr<const std::string>& a,
                    const std::shared_ptr<const std::string>& b) const
    {
      return *a == *b;
    }
  };
  LruCache<std::shared_ptr<const std::string>, int, SameText> cache;
  cache.insert(std::make_shared<const std::string>("panel"), 1);
  BOOST_TEST((cache.find(std::make_shared<const std::string>("panel")) == 1));
  BOOST_TEST(!cache.find(std::make_shared<const std::string>("frame")));
}

BOOST_AUTO_TEST_CASE(what_fails_to_be_made_is_not_stored)
{
  Words cache;
  const auto broken = []() -> std::string { throw std::runtime_error("broken"); };
  BOOST_CHECK_THROW(cache.find_or_make(1, broken), std::runtime_error);
  BOOST_TEST(cache.size() == 0U);
  BOOST_TEST(cache.find_or_make(1, [] { return std::string("one"); }) == "one");
  BOOST_TEST(cache.find_or_make(1, broken) == "one");
}

BOOST_AUTO_TEST_CASE(two_threads_make_nothing_twice)
{
  constexpr int keys = 500;
  LruCache<int, int> cache;
  LruCache<int, int> small({.count = 7});
  std::atomic<int> result = 0;
  std::atomic<int> wrong = 0;
  const auto work = [&] {
    for (int key = 0; key < keys; ++key) {
      const auto make = [&, key] {
        ++result;
        return key * key;
      };
      if (cache.find_or_make(key, make) != key * key)
        ++wrong;
      small.insert(key, key);
      if (const auto taken = small.take(key); taken && *taken != key)
        ++wrong;
      small.insert(key / 2, key / 2);
      small.make_room();
    }
  };
  std::thread other(work);
  work();
  other.join();
  BOOST_TEST(result == keys);
  BOOST_TEST(wrong == 0);
  BOOST_TEST(cache.size() == static_cast<std::size_t>(keys));
  BOOST_TEST(small.size() <= 7U);
}
