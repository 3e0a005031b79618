// SPDX-License-Identifier: GPL-3.0-or-later
// Values found again by the content of their key; those that were used least recently go first.
#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <limits>
#include <mutex>
#include <optional>
#include <utility>
#include <vector>

namespace hangtrue
{

/// What a cache may hold; without numbers as much as comes.
struct CacheLimits {
  std::size_t count = std::numeric_limits<std::size_t>::max(); ///< entries
  std::size_t bytes = std::numeric_limits<std::size_t>::max(); ///< as the cache's function says
};

/// A cache of the values used last. Keys are compared one by one by `Equal`; values are copied out,
/// so heavy ones are best held by pointer. Several threads may use it at once. The eviction hook is
/// called without the lock, so it may use other caches, and this one.
template <class Key, class Value, class Equal = std::equal_to<Key>>
class LruCache
{
public:
  using BytesOf = std::function<std::size_t(const Key&, const Value&)>;
  using OnEviction = std::function<void(const Key&, const Value&)>;

  /// `bytes_of` is called whenever bytes are counted: an entry may grow while it is cached.
  explicit LruCache(CacheLimits limits = {}, BytesOf bytes_of = {}, OnEviction evicted = {})
      : limits_(limits), bytes_of_(std::move(bytes_of)), evicted_(std::move(evicted))
  {
  }
  LruCache(const LruCache&) = delete;
  LruCache& operator=(const LruCache&) = delete;

  /// The value of an equal key, which becomes the one used last; nothing where there is none.
  std::optional<Value> find(const Key& key)
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    return find_locked(key);
  }

  /// The same, or else what `make()` gives, which is stored. The lock is held meanwhile: nothing is
  /// made twice. Throws what `make` throws; nothing is stored then.
  template <class Make>
  Value find_or_make(Key key, const Make& make)
  {
    Entries evicted; // goes after the lock
    std::unique_lock<std::mutex> lock(mutex_);
    if (auto found = find_locked(key))
      return *std::move(found);
    Value value = make();
    insert_locked({std::move(key), value}, evicted);
    lock.unlock();
    notify(evicted);
    return value;
  }

  /// Stores a value as the one used last, in place of that of an equal key. Of more entries than
  /// the limit the least recently used one goes before; bytes are up to `make_room`.
  void insert(Key key, Value value)
  {
    Entries evicted;
    {
      const std::lock_guard<std::mutex> lock(mutex_);
      insert_locked({std::move(key), std::move(value)}, evicted);
    }
    notify(evicted);
  }

  /// Takes the value of an equal key out, without the eviction hook; nothing where there is none.
  std::optional<Value> take(const Key& key)
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    const auto found = place_of(key);
    if (found == entries_.end())
      return std::nullopt;
    std::optional<Value> value(std::move(found->second));
    entries_.erase(found);
    return value;
  }

  /// The value used last among those that fit; it is not used by this.
  template <class Fits>
  std::optional<Value> latest_if(const Fits& fits) const
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    const auto found = std::find_if(entries_.rbegin(), entries_.rend(),
                                    [&](const Entry& e) { return fits(e.first, e.second); });
    return found != entries_.rend() ? std::optional<Value>(found->second) : std::nullopt;
  }

  /// All values, the one used last at the end.
  [[nodiscard]] std::vector<Value> values() const
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    std::vector<Value> all;
    all.reserve(entries_.size());
    for (const Entry& entry : entries_)
      all.push_back(entry.second);
    return all;
  }

  /// Evicts all entries that fit.
  template <class Fits>
  void erase_if(const Fits& fits)
  {
    Entries evicted;
    {
      const std::lock_guard<std::mutex> lock(mutex_);
      const auto gone =
          std::stable_partition(entries_.begin(), entries_.end(),
                                [&](const Entry& e) { return !fits(e.first, e.second); });
      evicted.assign(std::make_move_iterator(gone), std::make_move_iterator(entries_.end()));
      entries_.erase(gone, entries_.end());
    }
    notify(evicted);
  }

  /// Evicts all.
  void clear()
  {
    erase_if([](const Key&, const Value&) { return true; });
  }

  /// Evicts the least recently used ones until the rest keeps within the limits.
  void make_room()
  {
    Entries evicted;
    {
      const std::lock_guard<std::mutex> lock(mutex_);
      std::size_t bytes = bytes_locked();
      while (!entries_.empty() && (entries_.size() > limits_.count || bytes > limits_.bytes)) {
        bytes -= bytes_of(entries_.front());
        evict_first(evicted);
      }
    }
    notify(evicted);
  }

  /// Other limits from now on; nothing is evicted by this.
  void set_limits(CacheLimits limits)
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    limits_ = limits;
  }

  [[nodiscard]] std::size_t size() const
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    return entries_.size();
  }

  /// Memory, byte, of all entries by the function that it was given.
  [[nodiscard]] std::size_t bytes() const
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    return bytes_locked();
  }

private:
  using Entry = std::pair<Key, Value>;
  using Entries = std::vector<Entry>;

  CacheLimits limits_;
  BytesOf bytes_of_;
  OnEviction evicted_;
  mutable std::mutex mutex_; // over what stands below, and the limits
  Entries entries_;          // the one used last at the end

  auto place_of(const Key& key)
  {
    return std::find_if(entries_.begin(), entries_.end(),
                        [&](const Entry& e) { return Equal{}(e.first, key); });
  }

  std::optional<Value> find_locked(const Key& key)
  {
    const auto found = place_of(key);
    if (found == entries_.end())
      return std::nullopt;
    std::rotate(found, found + 1, entries_.end());
    return entries_.back().second;
  }

  void insert_locked(Entry entry, Entries& evicted)
  {
    if (const auto old = place_of(entry.first); old != entries_.end()) {
      evicted.push_back(std::move(*old));
      entries_.erase(old);
    }
    while (!entries_.empty() && entries_.size() >= limits_.count)
      evict_first(evicted);
    entries_.push_back(std::move(entry));
  }

  void evict_first(Entries& evicted)
  {
    evicted.push_back(std::move(entries_.front()));
    entries_.erase(entries_.begin());
  }

  [[nodiscard]] std::size_t bytes_of(const Entry& entry) const
  {
    return bytes_of_ ? bytes_of_(entry.first, entry.second) : 0;
  }

  [[nodiscard]] std::size_t bytes_locked() const
  {
    std::size_t sum = 0;
    for (const Entry& entry : entries_)
      sum += bytes_of(entry);
    return sum;
  }

  void notify(const Entries& evicted) const
  {
    if (evicted_)
      for (const Entry& entry : evicted)
        evicted_(entry.first, entry.second);
  }
};

} // namespace hangtrue
