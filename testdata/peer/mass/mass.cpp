// Prints what the Flexible Collision Library (FCL) says of the mass of solids at density 1:
// name, volume, middle, inertia about it (xx, yy, zz, xy, xz, yz of the tensor). Each argument is a
// binary STL file. The library's own formulas are integrals over tetrahedra from the origin, so the
// solid is first shifted by a round number that brings it near.
#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/math/bv/OBBRSS.h>

#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <iterator>
#include <vector>

using fcl::Vector3d;

static std::vector<Vector3d> read(const char* path) {
  std::ifstream in(path, std::ios::binary);
  const std::vector<char> data{std::istreambuf_iterator<char>(in), {}};
  std::vector<Vector3d> corners;
  std::uint32_t facets = 0;
  if (data.size() < 84) return corners;
  std::memcpy(&facets, &data[80], 4);
  if (data.size() != 84 + 50 * static_cast<std::size_t>(facets)) return corners;
  for (std::size_t i = 0; i < facets; i++) {
    float f[9];
    std::memcpy(f, &data[84 + 50 * i + 12], sizeof f);
    for (int k = 0; k < 3; k++) corners.emplace_back(f[3 * k], f[3 * k + 1], f[3 * k + 2]);
  }
  return corners;
}

int main(int argc, char** argv) {
  for (int a = 1; a < argc; a++) {
    std::vector<Vector3d> corners = read(argv[a]);
    if (corners.empty()) {
      std::fprintf(stderr, "%s: no binary STL\n", argv[a]);
      return 2;
    }
    Vector3d lo = corners[0], hi = corners[0];
    for (const Vector3d& c : corners) lo = lo.cwiseMin(c), hi = hi.cwiseMax(c);
    const Vector3d shift = ((lo + hi) / 2).array().round();
    std::vector<fcl::Triangle> facets;
    for (std::size_t i = 0; i < corners.size(); i += 3) facets.emplace_back(i, i + 1, i + 2);
    for (Vector3d& c : corners) c -= shift;
    fcl::BVHModel<fcl::OBBRSSd> model;
    model.beginModel();
    model.addSubModel(corners, facets);
    model.endModel();
    const Vector3d m = model.computeCOM() + shift;
    const fcl::Matrix3d i = model.computeMomentofInertiaRelatedToCOM();
    const char* name = std::strrchr(argv[a], '/');
    std::printf("%s,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g\n", name ? name + 1 : argv[a],
                model.computeVolume(), m[0], m[1], m[2], i(0, 0), i(1, 1), i(2, 2), i(0, 1), i(0, 2), i(1, 2));
  }
}
