// Asks the Flexible Collision Library (FCL) the questions that package collide
// answers, so that values and times can be laid side by side. Reads commands,
// writes CSV; README.md beside this file describes both. One thread.
#include <sys/resource.h>
#include <time.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <iostream>
#include <limits>
#include <memory>
#include <numeric>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/math/bv/OBBRSS.h>
#include <fcl/narrowphase/collision.h>
#include <fcl/narrowphase/distance.h>

namespace {

using Model = fcl::BVHModel<fcl::OBBRSSd>;
using Pose = fcl::Transform3d;
using Corner = std::array<float, 3>;

// Processor time of this process in seconds: what others do on the machine
// meanwhile does not count, and there is one thread.
double seconds() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

// Peak resident memory of this process so far, in bytes (Linux: ru_maxrss is in KiB).
long long peak_memory() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return 1024LL * usage.ru_maxrss;
}

// Every corner of every facet of a binary STL file, in file order.
std::vector<Corner> read_stl(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error("cannot open " + path);
  in.seekg(0, std::ios::end);
  const std::uint64_t size = static_cast<std::uint64_t>(in.tellg());
  char head[84] = {};
  in.seekg(0);
  if (!in.read(head, sizeof head)) throw std::runtime_error(path + ": shorter than a binary STL header");
  std::uint32_t count = 0;
  std::memcpy(&count, head + 80, sizeof count);
  if (count == 0 || size != 84 + 50ULL * count)
    throw std::runtime_error(path + ": size does not fit a binary STL file of " + std::to_string(count) + " facets");
  std::vector<Corner> corners(3ULL * count);
  for (std::uint32_t i = 0; i < count; ++i) {
    char record[50];
    if (!in.read(record, sizeof record)) throw std::runtime_error(path + ": cannot be read to its end");
    std::memcpy(corners[3ULL * i].data(), record + 12, 36);
  }
  return corners;
}

// The mesh as the library likes it best: corners of equal coordinates are one vertex.
void weld(const std::vector<Corner>& corners, std::vector<fcl::Vector3d>& points, std::vector<fcl::Triangle>& triangles) {
  std::vector<std::uint32_t> order(corners.size()), vertex(corners.size());
  std::iota(order.begin(), order.end(), 0u);
  std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) { return corners[a] < corners[b]; });
  for (std::size_t k = 0; k < order.size(); ++k) {
    const Corner& c = corners[order[k]];
    if (k == 0 || c != corners[order[k - 1]]) points.emplace_back(c[0], c[1], c[2]);
    vertex[order[k]] = static_cast<std::uint32_t>(points.size() - 1);
  }
  triangles.reserve(corners.size() / 3);
  for (std::size_t i = 0; i < corners.size(); i += 3) triangles.emplace_back(vertex[i], vertex[i + 1], vertex[i + 2]);
}

// A body's hierarchy, with what reading and building it took.
std::shared_ptr<Model> load(const std::string& name, const std::string& path) {
  double start = seconds();
  std::vector<fcl::Vector3d> points;
  std::vector<fcl::Triangle> triangles;
  weld(read_stl(path), points, triangles);
  const double reading = seconds() - start;
  start = seconds();
  auto model = std::make_shared<Model>();
  model->beginModel(static_cast<int>(triangles.size()), static_cast<int>(points.size()));
  model->addSubModel(points, triangles);
  model->endModel();
  std::printf("mesh,%s,%zu,%.6f,%.6f,%lld\n", name.c_str(), triangles.size(), reading, seconds() - start, peak_memory());
  return model;
}

Pose read_pose(std::istream& in) {
  Pose pose = Pose::Identity();
  for (int row = 0; row < 3; ++row)
    for (int column = 0; column < 4; ++column)
      if (!(in >> pose.matrix()(row, column))) throw std::runtime_error("a pose is 12 numbers, row by row");
  return pose;
}

struct Harness {
  std::shared_ptr<Model> a, b;
  double rel_err = 0, abs_err = 0;

  // Smallest distance between the surfaces; 0 where the library finds them crossing.
  double distance(const Pose& pose) const {
    fcl::DistanceRequestd request(false, false, rel_err, abs_err);
    fcl::DistanceResultd result;
    fcl::distance(a.get(), Pose::Identity(), b.get(), pose, request, result);
    return std::max(0.0, result.min_distance);
  }

  bool contact(const Pose& pose) const {
    fcl::CollisionRequestd request(1, false);
    fcl::CollisionResultd result;
    return fcl::collide(a.get(), Pose::Identity(), b.get(), pose, request, result) > 0;
  }

  // Asks `question` of every pose, prints every answer and the mean time of one.
  template <typename Question>
  void ask(const char* name, std::istream& in, Question question) const {
    if (!a || !b) throw std::runtime_error("meshes a and b come first");
    std::size_t count = 0;
    if (!(in >> count)) throw std::runtime_error(std::string(name) + " needs a number of poses");
    std::vector<Pose> poses;
    for (std::size_t i = 0; i < count; ++i) poses.push_back(read_pose(in));
    std::vector<double> answers(count);
    const double start = seconds();
    for (std::size_t i = 0; i < count; ++i) answers[i] = question(poses[i]);
    const double total = seconds() - start;
    for (std::size_t i = 0; i < count; ++i) std::printf("%s,%zu,%.17g\n", name, i, answers[i]);
    std::printf("mean,%s,%zu,%.6f\n", name, count, count ? 1e6 * total / count : 0.0);
  }

  // Smallest distance at samples of two rotary angles, the inner one about an
  // axis that the outer one carries: pose = turn(outer) turn(inner) home.
  void sweep(std::istream& in) const {
    if (!a || !b) throw std::runtime_error("meshes a and b come first");
    fcl::Vector3d point[2], axis[2];
    double lo[2], hi[2], step;
    for (int k = 0; k < 2; ++k)
      in >> point[k][0] >> point[k][1] >> point[k][2] >> axis[k][0] >> axis[k][1] >> axis[k][2] >> lo[k] >> hi[k];
    if (!(in >> step) || !(step > 0)) throw std::runtime_error("sweep needs two axes (point, direction, from, to) and a step");
    const Pose home = read_pose(in);
    const auto turn = [&](int k, double degrees) {
      const Eigen::AngleAxisd rotation(degrees * M_PI / 180, axis[k].normalized());
      return Pose(Eigen::Translation3d(point[k]) * rotation * Eigen::Translation3d(-point[k]));
    };
    const auto samples = [&](int k) { return static_cast<long>(std::floor((hi[k] - lo[k]) / step + 1e-9)) + 1; };
    double smallest = std::numeric_limits<double>::infinity(), where[2] = {lo[0], lo[1]};
    const double start = seconds();
    for (long i = 0; i < samples(0); ++i) {
      const Pose outer = turn(0, lo[0] + i * step);
      for (long j = 0; j < samples(1); ++j) {
        const double d = distance(outer * turn(1, lo[1] + j * step) * home);
        if (d < smallest) {
          smallest = d;
          where[0] = lo[0] + i * step;
          where[1] = lo[1] + j * step;
        }
      }
    }
    std::printf("sweep,%ld,%.17g,%.17g,%.17g,%.6f\n", samples(0) * samples(1), smallest, where[0], where[1], seconds() - start);
  }

  void run(std::istream& in) {
    std::string command;
    while (in >> command) {
      if (command == "mesh") {
        std::string name, path;
        in >> name;
        std::getline(in >> std::ws, path);
        if (name != "a" && name != "b") throw std::runtime_error("a mesh is called a or b, not " + name);
        (name == "a" ? a : b) = load(name, path);
      } else if (command == "tolerance") {
        if (!(in >> rel_err >> abs_err)) throw std::runtime_error("tolerance needs a relative and an absolute error");
      } else if (command == "distance") {
        ask("distance", in, [this](const Pose& pose) { return distance(pose); });
      } else if (command == "contact") {
        ask("contact", in, [this](const Pose& pose) { return contact(pose) ? 1.0 : 0.0; });
      } else if (command == "sweep") {
        sweep(in);
      } else {
        throw std::runtime_error("no such command: " + command);
      }
      std::fflush(stdout);
    }
    std::printf("memory,%lld\n", peak_memory());
  }
};

}  // namespace

int main(int argc, char** argv) {
  try {
    Harness harness;
    if (argc > 2) throw std::runtime_error("usage: harness [job]");
    if (argc == 2) {
      std::ifstream job(argv[1]);
      if (!job) throw std::runtime_error(std::string("cannot open ") + argv[1]);
      harness.run(job);
    } else {
      harness.run(std::cin);
    }
  } catch (const std::exception& error) {
    std::fprintf(stderr, "harness: %s\n", error.what());
    return 2;
  }
  return 0;
}
