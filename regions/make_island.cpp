/// make_island FOLDER: writes the invented island's map extract and elevation tile into FOLDER.

#include "regions/island.hpp"

#include <exception>
#include <filesystem>
#include <iostream>

int main(int argc, char** argv) {
    if (argc != 2) {
        std::cerr << "usage: make_island FOLDER\n"
                     "Writes ondrel.osm.pbf and N46W028.hgt into FOLDER, replacing what is there.\n";
        return 2;
    }
    try {
        const std::filesystem::path folder = argv[1];
        std::filesystem::create_directories(folder);
        const regions::Island island = regions::make_island();
        regions::write_extract(island, folder / "ondrel.osm.pbf");
        regions::write_tile(island, folder / "N46W028.hgt");
        std::cout << island.map.nodes().size() << " nodes, " << island.map.ways().size() << " ways, "
                  << island.map.relations().size() << " relations\n";
        return 0;
    } catch (const std::exception& failure) {
        std::cerr << "make_island: " << failure.what() << '\n';
        return 1;
    }
}
